// A plain shell case: panels between two profiles, supports, loads, temperatures and probes, solved by the elements
// that distortion runs on. For running published benchmarks. lessons/AUTHORING.md has the file's
// format, tests/cases examples.
#pragma once

#include "distortion/shell_problem.h"
#include "text/toml_reader.h"

#include <optional>
#include <string>
#include <vector>

namespace holdtrue::distortion {

enum class ShellProbeKind { displacement, reaction, stress };

struct ShellProbe {
    std::string name;
    ShellProbeKind kind = ShellProbeKind::displacement;
    int node = -1;                                   // displacement: the node there
    int element = -1;                                // stress: the element there
    Eigen::Vector3d place = Eigen::Vector3d::Zero(); // stress [m]
    std::vector<int> neighbours;                     // stress: the element and those round it in its panel
    std::vector<int> unknowns;                       // reaction: those that the support holds
};

struct ShellCase {
    std::string title;
    ShellMesh mesh; // nodes of different panels at one place are one
    ShellLoads loads;
    std::vector<ShellProbe> probes;
};

// Throws text::InputError with all problems of the file, after `document.finish()`.
ShellCase read_shell_case(text::Document& document);

// What a probe shows, in SI and global axes:
//   displacement  x y z [m], rx ry rz [rad]
//   reaction      x y z [N], rx ry rz [N m] about the global origin
//   stress        xx yy zz xy yz zx [Pa], at the bottom, the middle and the top of the sheet: 18 values. What the
//                 middles of the neighbouring elements say, laid through by a plane (least squares) and read at the
//                 place
std::vector<double> read_probe(const ShellProbe& probe, const ShellCase& of, const ShellModel& model,
                               const ShellSolution& solution);

} // namespace holdtrue::distortion
