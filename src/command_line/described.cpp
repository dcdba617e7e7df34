#include "command_line/described.h"

#include "command_line/shipped_file.h"
#include "lesson/lesson.h"
#include "text/assets.h"

#include <algorithm>
#include <sstream>

namespace holdtrue::command_line {
namespace {

// An option says by the name of its type what it takes: "{a4,letter}" for one of these words, "exercise", "part",
// "shop" or "lesson" for one that ships.
Values values_of(const CLI::Option& option) {
    const std::string type = option.get_type_name();
    if (const std::size_t open = type.find('{'), close = type.find('}'); close != std::string::npos) {
        std::istringstream list(replaced(type.substr(open + 1, close - open - 1), ',', " "));
        return {{std::istream_iterator<std::string>(list), {}}, false};
    }
    for (const FileKind kind : {FileKind::exercise, FileKind::part, FileKind::shop})
        if (type == word_of(kind))
            return {shipped_names(kind), true};
    if (type == "lesson") {
        Values values{{}, false};
        for (const lesson::Lesson& lesson : lesson::read_lessons(text::lessons_folder()))
            values.words.push_back(lesson.name);
        return values;
    }
    return {};
}

} // namespace

std::vector<const CLI::App*> commands_of(const CLI::App& app) {
    return app.get_subcommands([](const CLI::App*) { return true; });
}

std::vector<Command> all_commands(const CLI::App& program) {
    std::vector<Command> all{{{}, &program}};
    for (std::size_t k = 0; k < all.size(); ++k)
        for (const CLI::App* app : commands_of(*all[k].app)) {
            std::vector<std::string> path = all[k].path;
            path.push_back(app->get_name());
            all.push_back({path, app});
        }
    return all;
}

std::vector<Flag> flags_of(const CLI::App& app) {
    std::vector<Flag> flags;
    for (const CLI::Option* option : app.get_options()) {
        Flag flag{{}, option->get_items_expected_max() > 0, values_of(*option), option->get_description()};
        for (const std::string& name : option->get_snames())
            flag.names.push_back('-' + name);
        for (const std::string& name : option->get_lnames())
            flag.names.push_back("--" + name);
        if (!flag.names.empty())
            flags.push_back(flag);
    }
    return flags;
}

std::vector<Place> places_of(const CLI::App& app) {
    std::vector<Place> places;
    for (const CLI::Option* option : app.get_options())
        if (option->get_positional())
            places.push_back({option->get_name(), option->get_required(), option->get_items_expected_max() > 1,
                              values_of(*option), option->get_description()});
    return places;
}

std::string replaced(std::string text, char what, const std::string& with) {
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + with.size()))
        text.replace(at, 1, with);
    return text;
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

std::string joined(const std::vector<std::string>& words, const std::string& separator) {
    std::string all;
    for (const std::string& word : words)
        all += (all.empty() ? "" : separator) + word;
    return all;
}

} // namespace holdtrue::command_line
