#include "ccx_response.h"

#include "text/verify.h"

#include <Eigen/LU>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <numeric>
#include <set>
#include <sstream>

namespace holdtrue::distortion::testing {

namespace {

// A spring on a row fills the matrix for all the row's unknowns: beyond this many it is found from unit answers.
constexpr int most_terms = 1500;

} // namespace

bool ccx_is_there() { return std::system("command -v ccx > /dev/null 2>&1") == 0; }

CcxResponse::CcxResponse(const PartModel& model, CcxKind kind) : model_(model), bricks_(model, kind) {
    static int made = 0;
    folder_ = std::filesystem::temp_directory_path() /
              ("holdtrue_ccx_" + std::to_string(::getpid()) + "_" + std::to_string(++made));
    std::filesystem::create_directories(folder_);
    std::ofstream(folder_ / "sheets.inc") << bricks_.deck();
    rows_ = (model.rows().of_unknowns * bricks_.to_unknowns()).pruned(1.0, 1e-9);
    for (int row = 0; row < model.row_count(); ++row) {
        std::set<int> panels;
        for (decltype(rows_)::InnerIterator at(model.rows().of_unknowns, row); at; ++at)
            panels.insert(model.mesh().panel_of_node[static_cast<std::size_t>(at.col() / 6)]);
        panels_of_row_.emplace_back(panels.begin(), panels.end());
    }
}

CcxResponse::~CcxResponse() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
}

int CcxResponse::add_loads(std::span<const std::pair<int, double>> loads) {
    Action action{Eigen::VectorXd::Zero(model_.shell().unknown_count()), {}};
    for (const auto& [load, factor] : loads)
        action.load += factor * model_.loads().col(load);
    actions_.push_back(std::move(action));
    return levels_.add();
}

int CcxResponse::add_heat() {
    actions_.emplace_back();
    return levels_.add();
}

void CcxResponse::replace_heat(int action, const StepHeat& heat) {
    levels_.set(action, 0);
    actions_[static_cast<std::size_t>(action)] = {{}, heat.strain_of_node};
    solved_ = false;
}

void CcxResponse::set_level(int action, double level) {
    levels_.set(action, level);
    solved_ = false;
}

void CcxResponse::ramp_to(double share) {
    levels_.ramp_to(share);
    solved_ = false;
}

void CcxResponse::tie(std::span<const int> rows, std::span<const double> offsets) { fix(rows, offsets); }

void CcxResponse::fix(std::span<const int> rows, std::span<const double> offsets) {
    bool bears = false;
    for (std::size_t k = 0; k < rows.size(); ++k) {
        VERIFY(model_.spring(rows[k]) > 0, "only rows with a spring can be fixed");
        // A spring that is born where its row is bears nothing yet.
        bears = bears || !solved_ || value(rows[k]) != offsets[k];
        VERIFY(springs_.emplace(rows[k], offsets[k]).second, "a row is fixed once");
    }
    if (bears)
        solved_ = false;
}

void CcxResponse::release(std::span<const int> rows) {
    for (const int row : rows)
        VERIFY(springs_.erase(row) == 1, "only a fixed row can be released");
    solved_ = solved_ && rows.empty();
}

// Rows of the fixture whose springs would fill the matrix, or that hold a panel which hangs on nothing else.
std::set<int> CcxResponse::rows_by_answers() const {
    std::set<int> held, rows;
    for (const auto& [row, offset] : springs_)
        if (!model_.is_panel_row(row))
            held.insert(panels_of_row_[static_cast<std::size_t>(row)].begin(),
                        panels_of_row_[static_cast<std::size_t>(row)].end());
    for (const auto& [row, offset] : springs_)
        if (model_.is_panel_row(row) && (rows_.outerIndexPtr()[row + 1] - rows_.outerIndexPtr()[row] > most_terms ||
                                         !held.contains(panels_of_row_[static_cast<std::size_t>(row)].front())))
            rows.insert(row);
    return rows;
}

std::vector<int> CcxResponse::pieces() const {
    std::vector<int> piece(model_.mesh().panels.size());
    std::iota(piece.begin(), piece.end(), 0);
    for (const auto& [row, offset] : springs_)
        for (const int panel : panels_of_row_[static_cast<std::size_t>(row)]) {
            const int from = piece[static_cast<std::size_t>(panel)];
            const int to = piece[static_cast<std::size_t>(panels_of_row_[static_cast<std::size_t>(row)].front())];
            std::ranges::replace(piece, from, to);
        }
    return piece;
}

// Displacements of the bricks for 1 N on each of the rows found by answers, the other springs as they are.
std::map<int, Eigen::VectorXd> CcxResponse::find_unit_answers() {
    // Pieces do not feel each other: their rows share load cases.
    const std::vector<int> piece = pieces();
    const auto is_held = [&](int panel) { // by another spring
        return std::ranges::any_of(springs_, [&](const auto& spring) {
            return !by_answers_.contains(spring.first) &&
                   std::ranges::count(panels_of_row_[static_cast<std::size_t>(spring.first)], panel) > 0;
        });
    };
    const auto panel_of = [&](int node) { return model_.mesh().panel_of_node[static_cast<std::size_t>(node)]; };
    std::map<int, Eigen::VectorXd> answers;
    std::vector<std::vector<int>> rows_of_case;
    std::map<int, std::size_t> used; // cases, by piece
    for (const int row : by_answers_) {
        const int panel = panels_of_row_[static_cast<std::size_t>(row)].front();
        if (alone_.contains(row) && !is_held(panel)) {
            answers[row] = alone_[row];
            continue;
        }
        const std::size_t number = used[piece[static_cast<std::size_t>(panel)]]++;
        rows_of_case.resize(std::max(rows_of_case.size(), number + 1));
        rows_of_case[number].push_back(row);
    }
    std::vector<LoadCase> cases;
    for (const std::vector<int>& rows : rows_of_case) {
        LoadCase& load = cases.emplace_back();
        load.load = Eigen::VectorXd::Zero(model_.shell().unknown_count());
        for (const int row : rows)
            load.load += model_.rows().of_unknowns.row(row).transpose();
    }
    const std::vector<Eigen::VectorXd> moved = cases.empty() ? std::vector<Eigen::VectorXd>{} : run(cases);
    for (std::size_t k = 0; k < moved.size(); ++k)
        for (const int row : rows_of_case[k]) {
            const int panel = panels_of_row_[static_cast<std::size_t>(row)].front();
            Eigen::VectorXd& own = answers[row] = Eigen::VectorXd::Zero(moved[k].size());
            for (int pair = 0; pair < bricks_.pair_count(); ++pair)
                if (piece[static_cast<std::size_t>(panel_of(bricks_.mesh_node(pair)))] ==
                    piece[static_cast<std::size_t>(panel)])
                    own.segment<6>(6 * pair) = moved[k].segment<6>(6 * pair);
            if (!is_held(panel))
                alone_[row] = own;
        }
    return answers;
}

void CcxResponse::write_deck(const std::vector<LoadCase>& cases) const {
    std::ofstream inp(folder_ / "state.inp");
    inp.precision(12);
    inp << "*INCLUDE, INPUT=sheets.inc\n";

    // Dummy nodes: one for each spring, and one for each that keeps a loose panel from drifting off.
    struct Spring {
        Eigen::SparseVector<double> row;
        double stiffness, force; // force: that at value 0, from its offset
    };
    std::vector<Spring> springs;
    for (const auto& [row, offset] : springs_)
        if (!by_answers_.contains(row))
            springs.push_back(
                {rows_.row(row).transpose(), model_.spring(row), model_.spring(row) * (offset - row_shift_[row])});
    for (const int unknown : model_.held_unknowns())
        springs.push_back({bricks_.to_unknowns().row(unknown).transpose(), model_.ground_n_per_m(), 0});
    const int first = bricks_.last_node() + 1, first_element = model_.shell().element_count() + 1;
    inp << "*NODE, NSET=DUMMIES\n";
    for (std::size_t k = 0; k < springs.size(); ++k)
        inp << first + static_cast<int>(k) << ", 0., 0., 0.\n";
    inp << "*EQUATION\n";
    for (std::size_t k = 0; k < springs.size(); ++k) {
        inp << springs[k].row.nonZeros() + 1 << "\n" << first + static_cast<int>(k) << ", 1, -1.";
        int terms = 1;
        for (Eigen::SparseVector<double>::InnerIterator at(springs[k].row); at; ++at)
            inp << (terms++ % 4 == 0 ? "\n" : ", ") << at.index() / 3 + 1 << ", " << at.index() % 3 + 1 << ", "
                << at.value();
        inp << "\n";
    }
    for (std::size_t k = 0; k < springs.size(); ++k) {
        char stiffness[32];
        std::snprintf(stiffness, sizeof stiffness, "%.12e", springs[k].stiffness);
        inp << "*ELEMENT, TYPE=SPRING1, ELSET=S" << k << "\n"
            << first_element + static_cast<int>(k) << ", " << first + static_cast<int>(k) << "\n*SPRING, ELSET=S" << k
            << "\n1\n"
            << stiffness << "\n";
    }
    inp << "*BOUNDARY\nDUMMIES, 2, 3\n";
    for (const LoadCase& load : cases) {
        inp << "*STEP\n*STATIC\n*TEMPERATURE, OP=NEW\n";
        bricks_.write_heat(inp, load.strain_of_node);
        inp << "*CLOAD, OP=NEW\n";
        const Eigen::VectorXd force = bricks_.to_unknowns().transpose() * load.load;
        for (Eigen::Index i = 0; i < force.size(); ++i)
            if (force[i] != 0)
                inp << i / 3 + 1 << ", " << i % 3 + 1 << ", " << force[i] << "\n";
        for (std::size_t k = 0; load.offsets && k < springs.size(); ++k)
            if (springs[k].force != 0)
                inp << first + static_cast<int>(k) << ", 1, " << springs[k].force << "\n";
        inp << "*NODE PRINT, NSET=ALL\nU\n*END STEP\n";
    }
}

std::vector<Eigen::VectorXd> CcxResponse::run(const std::vector<LoadCase>& cases) {
    const auto start = std::chrono::steady_clock::now();
    const std::string command = "cd '" + folder_.string() + "' && OMP_NUM_THREADS=1 ccx state > state.log 2>&1";
    write_deck(cases);
    // SPOOLES, which ccx solves with, now and then fails to bring its unknowns into an order (GPart_makeYCmap); with
    // other numbers for them it does.
    for (int tries = 3; std::system(command.c_str()) != 0; --tries) {
        const bool other_numbers = bricks_.renumber();
        VERIFY(tries > 0 && other_numbers, "ccx runs");
        std::ofstream(folder_ / "sheets.inc") << bricks_.deck();
        write_deck(cases);
    }
    run_s_ += std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    ++runs_;
    steps_ += static_cast<int>(cases.size());

    std::ifstream dat(folder_ / "state.dat");
    std::vector<Eigen::VectorXd> all;
    std::size_t read = 0;
    for (std::string line; std::getline(dat, line);) {
        if (line.find("displacements") != std::string::npos)
            all.emplace_back(Eigen::VectorXd::Zero(3 * bricks_.node_count()));
        int node = 0;
        Eigen::Vector3d u;
        if (std::sscanf(line.c_str(), "%d %lf %lf %lf", &node, &u.x(), &u.y(), &u.z()) == 4 && !all.empty()) {
            all.back().segment<3>(3 * (node - 1)) = u;
            ++read;
        }
    }
    VERIFY(all.size() == cases.size() && read == cases.size() * static_cast<std::size_t>(bricks_.node_count()),
           "ccx prints every node");
    return all;
}

void CcxResponse::solve() {
    if (solved_)
        return;
    LoadCase state;
    state.load = Eigen::VectorXd::Zero(model_.shell().unknown_count());
    state.strain_of_node = Eigen::VectorXd::Zero(model_.node_count());
    state.offsets = true;
    for (std::size_t k = 0; k < actions_.size(); ++k) {
        const Action& action = actions_[k];
        const double level = levels_.now(static_cast<int>(k));
        if (level == 0)
            continue;
        if (action.load.size() > 0)
            state.load += level * action.load;
        if (action.strain_of_node.size() > 0)
            state.strain_of_node += level * action.strain_of_node;
    }
    row_shift_ = model_.rows().of_strains * state.strain_of_node;
    by_answers_ = rows_by_answers();
    Eigen::VectorXd moved = run({state})[0];

    // Rows by answers: (1 / k + B z) s = B u - offset, then u - z s.
    const std::map<int, Eigen::VectorXd> answers = find_unit_answers();
    if (!answers.empty()) {
        const auto count = static_cast<Eigen::Index>(answers.size());
        Eigen::MatrixXd matrix(count, count);
        Eigen::VectorXd out(count);
        Eigen::Index i = 0;
        for (const auto& [row, own] : answers) {
            Eigen::Index j = 0;
            for (const auto& [other, moves] : answers)
                matrix(i, j++) = rows_.row(row).dot(moves);
            matrix(i, i) += 1 / model_.spring(row);
            out[i] = rows_.row(row).dot(moved) + row_shift_[row] - springs_.at(row);
            ++i;
        }
        const Eigen::VectorXd force = matrix.partialPivLu().solve(out);
        i = 0;
        for (const auto& [row, moves] : answers)
            moved -= force[i++] * moves;
    }
    displacement_ = bricks_.to_unknowns() * moved;
    solved_ = true;
}

std::vector<double> CcxResponse::values(std::span<const int> rows, Asked) {
    solve();
    std::vector<double> values;
    for (const int row : rows)
        values.push_back(model_.rows().of_unknowns.row(row).dot(displacement_) + row_shift_[row]);
    return values;
}

double CcxResponse::force(int row) { return model_.spring(row) * (value(row) - springs_.at(row)); }

void CcxResponse::keep() {
    solve();
    kept_.push_back(displacement_);
}

} // namespace holdtrue::distortion::testing
