#include "command_line/describe.h"
#include "command_line/described.h"

#include <array>
#include <sstream>
#include <utility>

namespace holdtrue::command_line {
namespace {

// troff: backslashes and leading dots or quotes have a meaning, and a plain '-' may become a hyphen.
std::string troff(const std::string& text) {
    std::string escaped = replaced(replaced(text, '\\', "\\e"), '-', "\\-");
    std::istringstream lines(escaped);
    std::string all, line;
    while (std::getline(lines, line)) {
        if (!line.empty() && (line[0] == '.' || line[0] == '\''))
            line.insert(0, "\\&");
        all += (all.empty() ? "" : "\n") + line;
    }
    return all;
}

// What stands for a value: the words that it may be, or "value".
std::string value(const Values& values) {
    if (values.files || values.words.empty())
        return "\\fIvalue\\fR";
    std::string all;
    for (const std::string& word : values.words)
        all += (all.empty() ? "" : "|") + ("\\fB" + troff(word) + "\\fR");
    return all;
}

constexpr std::array<std::pair<const char*, const char*>, 7> examples{{
    {"Weld an exercise by a plan, mark it, and print what came of it:",
     "holdtrue weld tee_coupon my.plan.toml --report my.pdf"},
    {"Read a lesson, and be asked about it:", "holdtrue lesson order --quiz"},
    {"Settings for a fillet of 3 mm on 8 mm:", "holdtrue setup --joint fillet --t1 3 --t2 8"},
    {"Where a plan stands among all orders, and a better one:",
     "holdtrue order lift_arm --plan my.plan.toml --save better.plan.toml"},
    {"Hand an exercise out, and hand a plan in:", "holdtrue handout lift_arm -o arm.handout.zip"},
    {"Mark what came back:", "holdtrue class lift_arm handed_in/ --csv marks.csv --report class.pdf"},
    {"Keep the record safe:", "holdtrue record backup record_of_today.sqlite"},
}};

} // namespace

std::string manual_page(const CLI::App& program, const std::string& version) {
    std::ostringstream out;
    out << ".TH HOLDTRUE 1 \"\" \"Holdtrue " << troff(version) << "\" \"User commands\"\n"
        << ".SH NAME\nholdtrue \\- practise weld order and machine settings on a simulated part\n"
        << ".SH SYNOPSIS\n.B holdtrue\n[\\fIoptions\\fR]\n.br\n.B holdtrue\n\\fIcommand\\fR [\\fIarguments\\fR]\n"
        << ".SH DESCRIPTION\n"
           "Holdtrue simulates the welding of a part: the heat, the pull and where its gauges end up. It marks plans,\n"
           "teaches with lessons and keeps a record. Without a command the window opens.\n"
           ".PP\n"
           "It is for practice and learning. What is welded, how and by whom is decided by local codes, the "
           "employer's\n"
           "rules, the makers' instructions and qualified people.\n";
    const auto flags = [&](const CLI::App& app) {
        for (const Flag& flag : flags_of(app)) {
            std::string names;
            for (const std::string& name : flag.names)
                names += (names.empty() ? "" : ", ") + ("\\fB" + troff(name) + "\\fR");
            out << ".TP\n"
                << names << (flag.takes_value ? ' ' + value(flag.values) : "") << '\n'
                << troff(flag.description) << '\n';
        }
    };
    out << ".SH OPTIONS\n";
    flags(program);
    out << ".SH COMMANDS\n";
    for (const Command& command : all_commands(program)) {
        if (command.path.empty())
            continue;
        out << ".SS holdtrue " << troff(joined(command.path));
        for (const Place& place : places_of(*command.app))
            out << ' ' << troff((place.required ? place.name : '[' + place.name + ']') + (place.repeats ? " ..." : ""));
        out << '\n' << troff(command.app->get_description()) << ".\n";
        for (const Place& place : places_of(*command.app))
            if (!place.description.empty())
                out << ".TP\n\\fI" << troff(place.name) << "\\fR\n" << troff(place.description) << '\n';
        flags(*command.app);
        if (const std::string footer = command.app->get_footer(); !footer.empty())
            out << ".PP\n.nf\n" << troff(footer) << "\n.fi\n";
    }
    out << ".SH EXAMPLES\n";
    for (const auto& [what, line] : examples)
        out << ".TP\n" << what << "\n.B " << troff(line) << '\n';
    out << ".SH EXIT STATUS\n"
           ".TP\n0\nfine, or passed\n"
           ".TP\n1\nnot passed: a mark below what the exercise asks, a rule that fails, an answer that is wrong\n"
           ".TP\n2\nsomething in a file or on the command line is wrong; each mistake is one line on standard error,\n"
           "and nothing is written\n"
           ".TP\n130\nstopped by Ctrl\\-C; files are written whole or not at all\n"
           ".SH ENVIRONMENT\n"
           ".TP\n.B XDG_DATA_HOME\nfolder of the record (default: ~/.local/share)\n"
           ".TP\n.B XDG_CONFIG_HOME\nfolder of the window's preferences (default: ~/.config)\n"
           ".TP\n.B XDG_CACHE_HOME\nfolder of parts that were condensed before (default: ~/.cache); may be emptied\n"
           ".TP\n.B HOLDTRUE_ASSETS, HOLDTRUE_LESSONS\nother folders of parts, rules and fonts, and of lessons\n"
           ".SH FILES\n"
           ".TP\n.I ~/.local/share/holdtrue/record.sqlite\nattempts and answers; see \\fBholdtrue record\\fR\n"
           ".TP\n.I ~/.config/holdtrue/\nwhat the window remembers: language, units, sizes\n"
           ".TP\n.I ~/.cache/holdtrue/\nparts that were condensed before\n"
           ".TP\n.I *.part.toml, *.shop.toml, *.plan.toml, *.exercise.toml\n"
           "part, shop, plan and exercise; \\fBholdtrue check\\fR explains mistakes in them\n"
           ".TP\n.I *.case.toml\na case for \\fBholdtrue solve\\fR\n"
           ".TP\n.I *.handout.zip, *.handin.zip\n"
           "what an instructor hands out and a trainee hands in; \\fBholdtrue unpack\\fR opens them\n"
           ".SH SEE ALSO\n"
           "README.md of the program, and lessons/AUTHORING.md, which documents every key of its files\n";
    return out.str();
}

} // namespace holdtrue::command_line
