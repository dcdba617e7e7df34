#include "command_line/commands.h"
#include "record/bundle.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <memory>

namespace holdtrue::command_line {
namespace {

struct UnpackChoices {
    std::filesystem::path file, folder;
};

int unpack(const UnpackChoices& choices) {
    const record::Bundle bundle = record::read_bundle(choices.file);
    record::write_files(bundle, choices.folder);
    for (const record::PackedFile& file : bundle.files)
        std::printf("%s\n", (choices.folder / file.name).string().c_str());
    return 0;
}

} // namespace

void add_unpack(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand("unpack", "Unpacks a hand-out or hand-in into a new folder");
    auto choices = std::make_shared<UnpackChoices>();
    command->add_option("FILE", choices->file, "hand-out or hand-in (.handout.zip, .handin.zip)")->required();
    command->add_option("-d,--folder", choices->folder, "folder to make; it must not be there, or be empty")
        ->required();
    command->footer("Everything is checked first: names, sizes and checksums. What does not hold writes nothing.\n"
                    "Example: holdtrue unpack arm.handout.zip -d arm");
    command->callback([choices, &exit_code] { exit_code = unpack(*choices); });
}

} // namespace holdtrue::command_line
