#include "command_line/commands.h"
#include "command_line/shipped_file.h"
#include "grading/read_exercise.h"
#include "text/assets.h"
#include "text/atomic_file.h"
#include "text/input_error.h"
#include "text/names.h"
#include "text/toml_text.h"
#include "weld/save_plan.h"
#include "weld/starting_plan.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>

namespace holdtrue::command_line {
namespace {

namespace fs = std::filesystem;

struct NewArguments {
    fs::path name;                 // may stand in another folder
    fs::path part, shop, exercise; // what the new file refers to; empty: the shipped tee coupon
};

// Where the new file goes: NAME.KIND.toml, whether or not the user wrote the ending; never over an existing file.
fs::path target(const fs::path& name, const std::string& kind) {
    const std::string ending = "." + kind + ".toml";
    std::string file = name.filename().string();
    if (!file.ends_with(ending))
        file += ending;
    const std::string stem = file.substr(0, file.size() - ending.size());
    if (!text::is_name(stem))
        throw text::InputError(
            "", 0,
            text::in_english("\"" + stem + (kind == "exercise" ? "\" cannot name an " : "\" cannot name a ") + kind),
            text::name_rule);
    fs::path path = name.parent_path() / file;
    if (fs::exists(path))
        throw text::InputError(path.string(), 0, text::in_english("exists already"),
                               text::in_english("choose another name, or remove it first"));
    return path;
}

std::string stem_of(const fs::path& file) {
    const std::string name = file.filename().string();
    return name.substr(0, name.find('.'));
}

// As the new file has to write it: from its own folder where that is possible.
std::string reference(const fs::path& to, const fs::path& from_file) {
    const fs::path folder = fs::absolute(from_file).parent_path();
    const fs::path relative = fs::absolute(to).lexically_normal().lexically_relative(folder.lexically_normal());
    return (relative.empty() ? fs::absolute(to) : relative).generic_string();
}

std::string with(std::string text, const std::string& mark, const std::string& value) {
    for (std::size_t at = text.find(mark); at != std::string::npos; at = text.find(mark, at + value.size()))
        text.replace(at, mark.size(), value);
    return text;
}

std::string template_of(const std::string& kind) {
    const fs::path file = text::assets_folder() / "templates" / (kind + ".toml");
    std::ifstream in(file, std::ios::binary);
    std::string content{std::istreambuf_iterator<char>(in), {}};
    if (!in)
        throw text::InputError(file.string(), 0, text::in_english("cannot be read"),
                               text::in_english("check that the program's assets are installed"));
    return content;
}

void write_new(const NewArguments& arguments, const std::string& kind) {
    const fs::path file = target(arguments.name, kind);
    std::string content;
    if (kind == "plan") {
        const fs::path answered = arguments.exercise.empty()
                                      ? text::lessons_folder() / "exercises/tee_coupon.exercise.toml"
                                      : arguments.exercise;
        const grading::Exercise exercise = grading::read_exercise(answered);
        weld::Plan plan = weld::starting_plan(*exercise.part, *exercise.shop, exercise.joint_required);
        plan.title = stem_of(file);
        plan.exercise = reference(answered, file);
        content = "# A plan: setting cards, and the moves in order. lessons/AUTHORING.md lists every key and move.\n"
                  "# This one welds everything once, with cards that nobody has set yet; make it a good one.\n" +
                  weld::plan_toml(plan, *exercise.part);
    } else {
        const fs::path part =
            arguments.part.empty() ? text::assets_folder() / "parts/tee_coupon.part.toml" : arguments.part;
        const fs::path shop =
            arguments.shop.empty() ? text::assets_folder() / "shops/rookwood.shop.toml" : arguments.shop;
        content = with(template_of(kind), "@NAME@", stem_of(file));
        content = with(content, "@PART@", text::in_quotes(reference(part, file)));
        content = with(content, "@SHOP@", text::in_quotes(reference(shop, file)));
    }
    text::write_atomically(file, content);
    std::printf("%s written; change it and run 'holdtrue check %s'\n", file.string().c_str(), file.string().c_str());
}

} // namespace

void add_new(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand("new", "Writes a part, shop, exercise or plan file to start from");
    command->require_subcommand(1);
    command->footer("Examples:\n"
                    "  holdtrue new part bracket\n"
                    "  holdtrue new exercise bracket --part bracket.part.toml\n"
                    "  holdtrue new plan my --exercise bracket.exercise.toml");
    auto arguments = std::make_shared<NewArguments>();
    const auto add_kind = [&](const std::string& kind, const std::string& help) {
        CLI::App* sub = command->add_subcommand(kind, help);
        sub->add_option("NAME", arguments->name, "name of the new file, without its ending; may be in a folder")
            ->required();
        sub->footer("Example: holdtrue new " + kind + " bracket");
        sub->callback([arguments, kind, &exit_code] {
            write_new(*arguments, kind);
            exit_code = 0;
        });
        return sub;
    };
    add_kind("part", "Panels, joints, fixture and gauges of a small tee, with remarks");
    add_kind("shop", "A power source with dials, a wire and a gas, with remarks");
    CLI::App* exercise = add_kind("exercise", "A brief, limits and weights, with remarks");
    add_file(*exercise, "--part", arguments->part, FileKind::part, "the part file instead of the practice tee");
    add_file(*exercise, "--shop", arguments->shop, FileKind::shop, "the shop file instead of the demo shop");
    CLI::App* plan = add_kind("plan", "A plan that welds every pass of an exercise once");
    add_file(*plan, "--exercise", arguments->exercise, FileKind::exercise,
             "the exercise file instead of the practice tee");
}

} // namespace holdtrue::command_line
