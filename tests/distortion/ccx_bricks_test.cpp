// How well the bricks of CalculiX (ccx, a general-purpose finite-element code) stand for a sheet, and how near our
// shells come to them before anything is welded but tacks.
#include "ccx_response.h"
#include "distortion/condensed_response.h"
#include "distortion/job_run.h"
#include "no_ccx.h"
#include "sample_parts.h"

#include <Eigen/LU>
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

// Natural coordinates of a C3D20's nodes: corners, then the middles of edges.
Eigen::RowVector3d natural_of_node(int node) {
    constexpr std::array<std::array<double, 3>, 20> places{
        {{-1, -1, -1}, {1, -1, -1}, {1, 1, -1},  {-1, 1, -1}, {-1, -1, 1}, {1, -1, 1}, {1, 1, 1},
         {-1, 1, 1},   {0, -1, -1}, {1, 0, -1},  {0, 1, -1},  {-1, 0, -1}, {0, -1, 1}, {1, 0, 1},
         {0, 1, 1},    {-1, 0, 1},  {-1, -1, 0}, {1, -1, 0},  {1, 1, 0},   {-1, 1, 0}}};
    return Eigen::RowVector3d::Map(places[static_cast<std::size_t>(node)].data());
}

} // namespace

// As then a constant stress does no work on them, a patch of such bricks is pulled evenly. (Four skewed ones in ccx:
// without error; C3D8I: stresses of 0.93 to 1.07 of the right one.)
TEST_CASE("what the modes of a sheet brick strain is nothing in the mean, however skewed it is") {
    CcxSheetBrick::Places corners;
    corners << 0, 0, 0, 14, -1, 0, 9, 9, 0, -1, 6, 0, 0, 0, 3, 14, -1, 3, 9, 9, 3, -1, 6, 3;
    CHECK(CcxSheetBrick::skew(corners) > 0.1);
    const CcxSheetBrick brick(corners);
    Eigen::Matrix<double, 20, 5> modes;
    modes << brick.of_mode, brick.of_normal_mode;
    // With the shape functions of a C3D20 (Zienkiewicz and Taylor, from memory), whose slopes a difference finds.
    const auto shape = [&](const Eigen::RowVector3d& at) {
        Eigen::Matrix<double, 1, 20> n;
        for (int i = 0; i < 20; ++i) {
            const Eigen::RowVector3d own = natural_of_node(i);
            const Eigen::Array3d one = 1 + own.array() * at.array();
            double value = i < 8 ? one.prod() / 8 * (own.dot(at) - 2) : one.prod() / 4;
            for (int k = 0; i >= 8 && k < 3; ++k)
                if (own[k] == 0)
                    value *= 1 - at[k] * at[k];
            n[i] = value;
        }
        return n;
    };
    Eigen::Matrix<double, 3, 5> mean = Eigen::Matrix<double, 3, 5>::Zero();
    for (int corner = 0; corner < 8; ++corner) {
        const Eigen::RowVector3d at = natural_of_node(corner) / std::sqrt(3.0);
        Eigen::Matrix<double, 3, 20> slope; // by the natural coordinates
        for (int k = 0; k < 3; ++k)
            slope.row(k) = 0.5 * (shape(at + Eigen::RowVector3d::Unit(k)) - shape(at - Eigen::RowVector3d::Unit(k)));
        mean += (slope * brick.place_m).determinant() * (slope * brick.place_m).inverse() * (slope * modes);
    }
    CHECK(mean.cwiseAbs().maxCoeff() < 1e-9);
    CHECK(modes.cwiseAbs().maxCoeff() > 0.5);
}

// One tack of a box pulls, or draws its sheets in, while the tacks alone hold: how the faces between them move. With
// ccx's own bricks beside the welds the turns of the faces are 5 % apart.
TEST_CASE("a tack moves the open faces of a box as in CalculiX, within 1.5 % of the largest") {
    if (no_ccx())
        return;
    const part::Part part = box(0.2, 0.06, 0.05, 0.003, 0.01, 3, 2);
    const part::Mesh mesh = part::build_mesh(part);
    const CondensedPart condensed(part, mesh, {.groups = {.groups_per_pass = 1}, .ground_n_per_m = 100});
    const PartModel& model = condensed.model();
    CondensedResponse ours(condensed);
    CcxResponse theirs(model, CcxKind::with_sheet_bricks);
    const GroupLoads& tack = model.loads_of(0);
    REQUIRE(model.groups()[0].kind == part::PassKind::tack);
    std::vector<int> openings, turns;
    for (const WeldGroup& group : model.groups())
        if (group.kind == part::PassKind::run) {
            openings.push_back(group.opening());
            turns.push_back(group.first_tie + 3);
        }
    const ShrinkageLaw law(part, mesh);
    std::vector<std::vector<double>> answers[2];
    for (Response* response : {static_cast<Response*>(&ours), static_cast<Response*>(&theirs)}) {
        const JobRun ready(model, *response, law); // the fixture holds the panels
        for (const WeldGroup& group : model.groups())
            if (group.kind == part::PassKind::tack)
                tie_all(*response, group);
        for (int panel = 0; panel < 2; ++panel)
            response->release(model.panel_rows(panel));
        for (const auto& [of_sides, amount] :
             {std::pair(tack.along_narrow, 20e3), std::pair(tack.across, 1e-4)}) { // N, m
            const int action = response->add_loads(std::vector{std::pair(of_sides[0], amount), {of_sides[1], amount}});
            response->set_level(action, 1);
            for (const std::vector<int>* rows : {&openings, &turns})
                answers[response == &theirs].push_back(response->values(*rows, Response::Asked::often));
            response->set_level(action, 0);
        }
    }
    for (std::size_t k = 0; k < answers[0].size(); ++k) {
        double largest = 0;
        for (const double value : answers[1][k])
            largest = std::max(largest, std::abs(value));
        REQUIRE(largest > 1e-6);
        for (std::size_t i = 0; i < answers[0][k].size(); ++i)
            CHECK(std::abs(answers[0][k][i] - answers[1][k][i]) < 0.015 * largest);
    }
}
