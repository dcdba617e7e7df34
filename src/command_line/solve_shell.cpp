#include "command_line/solve_shell.h"

#include "distortion/shell_case.h"
#include "text/atomic_file.h"

#include <nlohmann/json.hpp>

#include <cstdio>

namespace holdtrue::command_line {
namespace {

using nlohmann::json;

const char* kind_name(distortion::ShellProbeKind kind) {
    switch (kind) {
    case distortion::ShellProbeKind::displacement:
        return "displacement m, rad";
    case distortion::ShellProbeKind::reaction:
        return "reaction N, N m";
    case distortion::ShellProbeKind::stress:
        return "stress Pa";
    }
    return "";
}

void print_row(const std::string& name, const char* what, const double* values) {
    std::printf("%-16s %-20s", name.c_str(), what);
    for (int k = 0; k < 6; ++k)
        std::printf(" %13.6g", values[k]);
    std::printf("\n");
}

} // namespace

int solve_shell(text::Document& document, const std::filesystem::path& json_file) {
    const distortion::ShellCase c = distortion::read_shell_case(document);
    const distortion::ShellModel model(c.mesh);
    const distortion::ShellSolution solution = distortion::solve(model, c.loads);
    if (!solution.held)
        throw text::InputError(document.file(), 0, text::in_english("the stiffness is too uneven to be solved"),
                               text::in_english("bring thicknesses and element sizes nearer to one another"));

    if (!c.title.empty())
        std::printf("%s\n", c.title.c_str());
    std::printf("%d nodes, %d elements\n", model.node_count(), model.element_count());
    std::printf("%-16s %-20s %13s %13s %13s %13s %13s %13s\n", "probe", "", "x, xx", "y, yy", "z, zz", "rx, xy",
                "ry, yz", "rz, zx");
    json probes = json::array();
    for (const distortion::ShellProbe& probe : c.probes) {
        const std::vector<double> values = distortion::read_probe(probe, c, model, solution);
        if (probe.kind == distortion::ShellProbeKind::stress) {
            print_row(probe.name, "stress Pa, bottom", values.data());
            print_row(probe.name, "stress Pa, middle", values.data() + 6);
            print_row(probe.name, "stress Pa, top", values.data() + 12);
        } else
            print_row(probe.name, kind_name(probe.kind), values.data());
        probes.push_back({{"name", probe.name}, {"kind", kind_name(probe.kind)}, {"values", values}});
    }
    if (!json_file.empty()) {
        json out{{"kind", "shell"}, {"title", c.title}, {"probes", probes}};
        for (const Eigen::Vector3d& p : c.mesh.node_m)
            out["node_m"].push_back({p.x(), p.y(), p.z()});
        out["elements"] = c.mesh.quad;
        out["displacement"] = std::vector<double>(solution.displacement.data(),
                                                  solution.displacement.data() + solution.displacement.size());
        text::write_atomically(json_file, out.dump(1) + "\n");
    }
    return 0;
}

} // namespace holdtrue::command_line
