#include "command_line/check_output.h"
#include "command_line/commands.h"
#include "command_line/solve_shell.h"
#include "heat/conduction_case.h"
#include "text/atomic_file.h"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <cstdio>
#include <filesystem>
#include <memory>

namespace holdtrue::command_line {
namespace {

using nlohmann::json;
using units::to_celsius;

json to_json(const heat::ConductionCase& c, const heat::ConductionResult& result) {
    json document;
    document["kind"] = "conduction";
    document["title"] = c.title;
    document["steady"] = c.steady;
    document["finished"] = result.finished;
    document["steps"] = result.steps;
    document["time_s"] = result.time_s;
    for (std::size_t p = 0; p < c.probes.size(); ++p) {
        json probe;
        probe["name"] = c.probes[p].name;
        for (const std::vector<double>& row : result.probe_k)
            probe["temperature_k"].push_back(row[p]);
        document["probes"].push_back(probe);
    }
    const heat::HeatAccounts& a = result.accounts;
    document["energy_j"] = {{"sources", a.brought_j},
                            {"fixed_temperatures", a.supplied_j},
                            {"stored", a.stored_j},
                            {"surfaces_out", a.lost_j[0]},
                            {"imbalance", a.imbalance_j()}};
    json nodes = json::array();
    for (const part::Point& p : result.mesh->position_m)
        nodes.push_back({p.x(), p.y(), p.z()});
    document["node_m"] = nodes;
    document["temperature_k"] = result.temperature_k;
    for (const part::PanelGrid& panel : result.mesh->panels)
        document["elements"].push_back({panel.cells_u(), panel.cells_v()});
    return document;
}

int solve_conduction(text::Document& document, const std::filesystem::path& json_file) {
    const heat::ConductionCase c = heat::read_conduction_case(document);
    const heat::ConductionResult result = heat::solve(c);

    if (!c.title.empty())
        std::printf("%s\n", c.title.c_str());
    for (std::size_t p = 0; p < result.mesh->panels.size(); ++p)
        std::printf("panel %s: %d x %d elements\n", c.part.panels[p].name.c_str(), result.mesh->panels[p].cells_u(),
                    result.mesh->panels[p].cells_v());
    std::printf("%-20s %12s %12s %12s\n", "probe", "time s", "C", "K");
    for (std::size_t t = 0; t < result.time_s.size(); ++t)
        for (std::size_t p = 0; p < c.probes.size(); ++p) {
            const double k = result.probe_k[t][p];
            if (c.steady)
                std::printf("%-20s %12s %12.3f %12.3f\n", c.probes[p].name.c_str(), "steady", to_celsius(k), k);
            else
                std::printf("%-20s %12.6g %12.3f %12.3f\n", c.probes[p].name.c_str(), result.time_s[t], to_celsius(k),
                            k);
        }
    const heat::HeatAccounts& a = result.accounts;
    std::printf("heat in from sources %.6g J, from fixed temperatures %.6g J; out through surfaces %.6g J; stored "
                "%.6g J; not accounted for %.2g J\n",
                a.brought_j, a.supplied_j, a.lost_j[0], a.stored_j, a.imbalance_j());
    if (!result.finished)
        std::fprintf(stderr, "the steady state was not reached; what is printed is where it stood\n");
    if (!json_file.empty())
        text::write_atomically(json_file, to_json(c, result).dump(1) + "\n");
    return result.finished ? 0 : 1;
}

} // namespace

void add_solve(CLI::App& program, int& exit_code) {
    struct Arguments {
        std::filesystem::path file, json;
    };
    CLI::App* command =
        program.add_subcommand("solve", "Runs a plain case through the solvers, such as a published benchmark");
    auto arguments = std::make_shared<Arguments>();
    command->add_option("CASE", arguments->file, "a .case.toml file")->required();
    command->add_option("--json", arguments->json, "write the result here");
    command->footer("Example: holdtrue solve tests/cases/nafems_t3.case.toml --json t3.json");
    command->callback([arguments, &exit_code] {
        if (!arguments->json.empty())
            check_output(arguments->json);
        text::Document document = text::Document::read(arguments->file);
        enum class Kind { conduction, shell };
        switch (document.root().choice<Kind>("kind", {{"conduction", Kind::conduction}, {"shell", Kind::shell}})) {
        case Kind::shell:
            exit_code = solve_shell(document, arguments->json);
            break;
        case Kind::conduction:
            exit_code = solve_conduction(document, arguments->json);
            break;
        }
    });
}

} // namespace holdtrue::command_line
