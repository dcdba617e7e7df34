#include "record/hand_out.h"

#include "command_line/commands.h"
#include "command_line/shipped_file.h"
#include "grading/read_exercise.h"
#include "text/atomic_file.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <memory>

namespace holdtrue::command_line {
namespace {

struct HandOutChoices {
    std::filesystem::path exercise, out;
};

int hand_out(const HandOutChoices& choices) {
    record::check_bundle_name(choices.out, record::BundleKind::hand_out);
    const record::Bundle bundle = record::hand_out(grading::read_exercise(choices.exercise), HOLDTRUE_VERSION);
    const std::string bytes = record::bundle_bytes(bundle);
    record::parse_bundle(bytes, choices.out.string()); // what could not be unpacked is not handed out
    text::write_atomically(choices.out, bytes);
    std::printf("%s: %zu files, SHA-256 %s\n", choices.out.string().c_str(), bundle.files.size(),
                record::sha256_hex(bytes).c_str());
    return 0;
}

} // namespace

void add_hand_out(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand(
        "handout", "Packs an exercise with its part, shop, rules, lessons and a starting plan into one file");
    auto choices = std::make_shared<HandOutChoices>();
    add_file(*command, "EXERCISE", choices->exercise, FileKind::exercise, "exercise file (.exercise.toml)")->required();
    command->add_option("-o,--out", choices->out, "file to write (.handout.zip)")->required();
    command->footer("The same exercise gives the same file. A trainee unpacks it with 'holdtrue unpack'.\n"
                    "Example: holdtrue handout arm.exercise.toml -o arm.handout.zip");
    command->callback([choices, &exit_code] { exit_code = hand_out(*choices); });
}

} // namespace holdtrue::command_line
