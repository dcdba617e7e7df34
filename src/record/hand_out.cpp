#include "record/hand_out.h"

#include "lesson/lesson.h"
#include "text/assets.h"
#include "text/names.h"
#include "text/toml_text.h"
#include "weld/save_plan.h"
#include "weld/starting_plan.h"

#include <algorithm>

namespace holdtrue::record {
namespace {

namespace fs = std::filesystem;

std::string text_of(const fs::path& file) { return read_bounded(file, ArchiveLimits{}.file_bytes); }

// The file's own name where that is harmless, so that people know it again.
std::string name_for(const fs::path& file, const std::string& kind) {
    const std::string name = file.filename().string(), ending = "." + kind + ".toml";
    const bool good = name.ends_with(ending) && text::is_name(name.substr(0, name.size() - ending.size()));
    return good ? name : kind + ending;
}

void add_folder(Bundle& bundle, const fs::path& folder, const std::string& below,
                const std::vector<std::string>& endings) {
    std::vector<PackedFile> found;
    std::error_code error;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
        const std::string name = at->path().filename().string();
        if (std::ranges::any_of(endings, [&](const std::string& ending) { return name.ends_with(ending); }) &&
            trouble_with_name(name).empty())
            found.push_back({below + "/" + name, text_of(at->path())});
    }
    std::ranges::sort(found, {}, &PackedFile::name);
    bundle.files.insert(bundle.files.end(), found.begin(), found.end());
}

std::string read_me(const grading::Exercise& exercise) {
    const std::string plan = exercise.name + ".start.plan.toml";
    return exercise.title + "\n\n" + "Read the brief in " + exercise.name +
           ".exercise.toml, or open it in the window:\n\n" + "    holdtrue --open " + exercise.name +
           ".exercise.toml\n\n" + "Put your name into " + plan +
           " (trainee = \"...\") before all else: it decides which\nvariant of the exercise is yours. Then, without "
           "the window:\n\n" +
           "    holdtrue weld " + exercise.name + ".exercise.toml " + plan + "\n" + "    holdtrue hint " +
           exercise.name + ".exercise.toml " + plan + "     the next hint; it costs points\n" + "    holdtrue handin " +
           plan + " -o YOUR_NAME.handin.zip\n\n" +
           "Hand the .handin.zip in. A simulated part is practice: for real steel follow local codes, your\n"
           "employer's rules and the maker's instructions, and leave what needs a licence to those who hold one.\n";
}

} // namespace

Bundle hand_out(const grading::Exercise& exercise, const std::string& program) {
    Bundle bundle;
    bundle.kind = BundleKind::hand_out;
    bundle.exercise = exercise.name;
    bundle.program = program;

    const std::string file = exercise.name + ".exercise.toml";
    const std::string part = name_for(exercise.part->file, "part"), shop = name_for(exercise.shop->file, "shop");
    std::string text = text_of(exercise.file);
    for (const auto& [key, value] : {std::pair{"part", part}, {"shop", shop}, {"rules", std::string("rules")}})
        text = text::with_root_key(text, key, text::in_quotes(value), exercise.file.string());

    weld::Plan plan = weld::starting_plan(*exercise.part, *exercise.shop, exercise.joint_required);
    plan.title = "My plan";
    plan.exercise = file;
    bundle.files = {
        {"READ_ME.txt", read_me(exercise)},
        {file, text},
        {part, text_of(exercise.part->file)},
        {shop, text_of(exercise.shop->file)},
        {exercise.name + ".start.plan.toml", "trainee = \"\" # your name\n" + weld::plan_toml(plan, *exercise.part)}};
    add_folder(bundle, exercise.rules->folder(), "rules", {".toml"});
    std::vector<lesson::Lesson> lessons;
    if (!exercise.lessons.empty())
        lessons = lesson::read_lessons(text::lessons_folder());
    for (const std::string& name : exercise.lessons) {
        const fs::path& folder = lesson::find_lesson(lessons, name, exercise.file.string()).folder;
        add_folder(bundle, folder, "lessons/" + folder.filename().string(), {".md", ".toml"});
    }
    return bundle;
}

} // namespace holdtrue::record
