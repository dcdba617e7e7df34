#include "command_line/commands.h"
#include "text/toml_reader.h"

#include <CLI/CLI.hpp>

#include <filesystem>
#include <memory>
#include <vector>

namespace holdtrue::command_line {

void add_check(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand(
        "check", "Says whether part, shop, plan and exercise files are right, and what to correct");
    auto files = std::make_shared<std::vector<std::filesystem::path>>();
    command->add_option("FILE", *files, "files to check")->required();
    command->callback([files, &exit_code] {
        for (const auto& file : *files)
            text::Document::read(file);
        exit_code = 0;
    });
}

} // namespace holdtrue::command_line
