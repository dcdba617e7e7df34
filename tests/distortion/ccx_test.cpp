// The shells against CalculiX (ccx, a general-purpose finite-element code), with the same mesh, the same shrinkage
// and every tie in place: a tee whose web stands on the flange's middle line, shrinking along one seam off the middle.
// There the strips' shrinkage is an orthotropic expansion of the same elements under one kelvin of heating, and the
// web shares the flange's nodes. The order of laying is not compared: that is algebra on these answers.
#include "distortion/condensed_response.h"
#include "no_ccx.h"
#include "sample_parts.h"
#include "shell_grid.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

namespace fs = std::filesystem;

constexpr double length_m = 0.6, flange_m = 0.1, web_m = 0.08, t_m = 0.005, element_m = 0.01, tendon_n = 60e3;

// Nodes of panels that meet are one.
struct Welded {
    std::vector<int> node; // of each node of the mesh: number in ccx, from 1
    std::vector<Eigen::Vector3d> place;
};

Welded weld_nodes(const part::Mesh& mesh) {
    Welded welded;
    for (const Point& p : mesh.position_m) {
        std::size_t k = 0;
        while (k < welded.place.size() && (welded.place[k] - p).norm() > 1e-6)
            ++k;
        if (k == welded.place.size())
            welded.place.push_back(p);
        welded.node.push_back(static_cast<int>(k) + 1);
    }
    return welded;
}

// `of_element`: strain along the weld (x) that each element would shrink by if it were free.
std::map<int, Eigen::Vector3d> run_ccx(const PartModel& model, const std::vector<double>& of_element) {
    const fs::path folder = fs::temp_directory_path() / ("holdtrue_ccx_" + std::to_string(::getpid()));
    fs::create_directories(folder);
    const Welded welded = weld_nodes(model.mesh());
    std::ofstream inp(folder / "tee.inp");
    inp.precision(12);
    inp << "*NODE, NSET=ALL\n";
    for (std::size_t k = 0; k < welded.place.size(); ++k)
        inp << k + 1 << ", " << welded.place[k].x() << ", " << welded.place[k].y() << ", " << welded.place[k].z()
            << "\n";
    std::map<double, int> materials; // one for each amount of shrinkage
    for (const double strain : of_element)
        materials.emplace(strain, static_cast<int>(materials.size()));
    for (const auto& [strain, number] : materials)
        for (const bool web : {false, true}) {
            std::ostringstream elements;
            for (int e = 0; e < model.shell().element_count(); ++e) {
                const bool in_web = std::abs(model.shell().element(e).axes()(2, 2)) < 0.5;
                if (of_element[static_cast<std::size_t>(e)] != strain || in_web != web)
                    continue;
                elements << e + 1;
                for (const int node : model.shell().nodes_of(e))
                    elements << ", " << welded.node[static_cast<std::size_t>(node)];
                elements << "\n";
            }
            if (elements.str().empty())
                continue;
            const std::string name = (web ? "W" : "F") + std::to_string(number);
            // A pull along x alone is a strain along x and, by Poisson's ratio, one across, in the element's plane.
            const double across = -0.3 * strain;
            inp << "*ELEMENT, TYPE=S4, ELSET=" << name << "\n" << elements.str();
            inp << "*MATERIAL, NAME=M" << name << "\n*ELASTIC\n210e9, 0.3\n*EXPANSION, TYPE=ORTHO, ZERO=0\n"
                << strain << ", " << (web ? 0.0 : across) << ", " << (web ? across : 0.0) << "\n";
            inp << "*SHELL SECTION, ELSET=" << name << ", MATERIAL=M" << name << "\n" << t_m << "\n";
        }
    const auto at = [&](double x, double y, double z) {
        std::size_t best = 0;
        for (std::size_t k = 0; k < welded.place.size(); ++k)
            if ((welded.place[k] - Eigen::Vector3d(x, y, z)).norm() <
                (welded.place[best] - Eigen::Vector3d(x, y, z)).norm())
                best = k;
        return best + 1;
    };
    // Three points hold the part and nothing more.
    inp << "*BOUNDARY\n"
        << at(0, -flange_m / 2, 0) << ", 1, 3\n"
        << at(0, flange_m / 2, 0) << ", 1, 1\n"
        << at(0, flange_m / 2, 0) << ", 3, 3\n"
        << at(length_m, -flange_m / 2, 0) << ", 3, 3\n";
    inp << "*INITIAL CONDITIONS, TYPE=TEMPERATURE\nALL, 0\n*STEP\n*STATIC\n*TEMPERATURE\nALL, 1\n*NODE PRINT, "
           "NSET=ALL\nU\n*END STEP\n";
    inp.close();
    const std::string run = "cd '" + folder.string() + "' && ccx tee > tee.log 2>&1";
    REQUIRE(std::system(run.c_str()) == 0);
    std::ifstream dat(folder / "tee.dat");
    std::map<int, Eigen::Vector3d> moved; // by number in ccx
    for (std::string line; std::getline(dat, line);) {
        std::istringstream words(line);
        int node = 0;
        Eigen::Vector3d u;
        if (words >> node >> u.x() >> u.y() >> u.z())
            moved[node] = u;
    }
    fs::remove_all(folder);
    REQUIRE(moved.size() == welded.place.size());
    std::map<int, Eigen::Vector3d> of_mesh;
    for (std::size_t n = 0; n < welded.node.size(); ++n)
        of_mesh[static_cast<int>(n)] = moved.at(welded.node[n]);
    return of_mesh;
}

} // namespace

TEST_CASE("a welded tee shrinks as it does in CalculiX, within 2 %") {
    if (no_ccx())
        return;
    part::Part part = testing::tee(length_m, flange_m, web_m, t_m, element_m, 20, 0);
    part.panels[1].profile_a.front().z() = 0; // the web's foot on the flange's middle line
    part.panels[1].profile_b.front().z() = 0;
    part.joints.pop_back();
    std::erase_if(part.passes, [](const part::Pass& pass) { return pass.joint == 1; });
    part.joints[0].path = {{0, 0, 0}, {length_m, 0, 0}};
    part.gauges.clear();
    const part::Mesh mesh = part::build_mesh(part);
    const CondensedPart condensed(part, mesh);
    const PartModel& model = condensed.model();
    CondensedResponse response(condensed);
    std::array<double, 2> share{};
    for (std::size_t g = 0; g < model.groups().size(); ++g) {
        const WeldGroup& group = model.groups()[g];
        tie_all(response, group);
        std::vector<std::pair<int, double>> pull;
        for (const std::size_t side : {0u, 1u}) {
            share[side] = model.strips(static_cast<int>(g))[side].share;
            pull.emplace_back(model.loads_of(static_cast<int>(g)).along_narrow[side], tendon_n * share[side]);
        }
        response.set_level(response.add_loads(pull), 1);
    }
    response.keep();
    const Eigen::VectorXd ours = response.displacements()[0];

    // The strips are 10 mm to each side of the foot: one row of elements in the web, two in the flange.
    CHECK(within(share[0] + share[1], 1, 1e-9));
    const double in_web = tendon_n * share[0] / (narrow_strip_m * t_m) / 210e9;
    const double in_flange = tendon_n * share[1] / (2 * narrow_strip_m * t_m) / 210e9;
    std::vector<double> strain;
    for (int e = 0; e < model.shell().element_count(); ++e) {
        Point middle = Point::Zero();
        for (const int node : model.shell().nodes_of(e))
            middle += 0.25 * mesh.position_m[static_cast<std::size_t>(node)];
        const bool in_strip = std::hypot(middle.y(), middle.z()) < narrow_strip_m;
        strain.push_back(!in_strip ? 0.0 : middle.z() > 1e-6 ? -in_web : -in_flange);
    }
    const std::map<int, Eigen::Vector3d> theirs = run_ccx(model, strain);

    const auto node = [&](double x, double y, double z, int panel) {
        int best = -1;
        for (int n = 0; n < mesh.node_count(); ++n)
            if (mesh.panel_of_node[static_cast<std::size_t>(n)] == panel &&
                (best < 0 || (mesh.position_m[static_cast<std::size_t>(n)] - Point(x, y, z)).norm() <
                                 (mesh.position_m[static_cast<std::size_t>(best)] - Point(x, y, z)).norm()))
                best = n;
        return best;
    };
    const auto of = [&](bool ccx, int n) -> Eigen::Vector3d {
        return ccx ? theirs.at(n) : Eigen::Vector3d(ours.segment<3>(6 * n));
    };
    const int first = node(0, 0, 0, 0), middle = node(length_m / 2, 0, 0, 0), last = node(length_m, 0, 0, 0);
    const int top_first = node(0, 0, web_m, 1), top_last = node(length_m, 0, web_m, 1);
    std::array<double, 2> camber{}, foot{}, top{};
    for (const bool ccx : {false, true}) {
        const auto k = static_cast<std::size_t>(ccx);
        camber[k] = of(ccx, middle).z() - 0.5 * (of(ccx, first).z() + of(ccx, last).z());
        foot[k] = of(ccx, last).x() - of(ccx, first).x();
        top[k] = of(ccx, top_last).x() - of(ccx, top_first).x();
    }
    MESSAGE("camber ", camber[0], " and ", camber[1], ", foot ", foot[0], " and ", foot[1], ", top ", top[0], " and ",
            top[1]);
    CHECK(std::abs(camber[1]) > 1e-4);
    CHECK(within(camber[0], camber[1], 0.02));
    CHECK(within(foot[0], foot[1], 0.02));
    CHECK(std::abs(top[0] - top[1]) < 0.02 * std::abs(foot[1]));
}
