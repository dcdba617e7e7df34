#include "command_line/describe.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <functional>
#include <sstream>
#include <vector>

namespace holdtrue::command_line {
namespace {

std::vector<const CLI::App*> commands_of(const CLI::App& app) {
    return app.get_subcommands([](const CLI::App*) { return true; });
}

// Every command with the words that lead to it: {"record", "trainee", "add"}; the program itself first.
struct Command {
    std::vector<std::string> path;
    const CLI::App* app;
    std::string joined(const std::string& separator) const {
        std::string all;
        for (const std::string& word : path)
            all += (all.empty() ? "" : separator) + word;
        return all;
    }
};
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

struct Flag {
    std::vector<std::string> names; // "-o", "--out"
    bool takes_value;
    std::string description;
};
std::vector<Flag> flags_of(const CLI::App& app) {
    std::vector<Flag> flags;
    for (const CLI::Option* option : app.get_options()) {
        Flag flag{{}, option->get_items_expected_max() > 0, option->get_description()};
        for (const std::string& name : option->get_snames())
            flag.names.push_back('-' + name);
        for (const std::string& name : option->get_lnames())
            flag.names.push_back("--" + name);
        if (!flag.names.empty())
            flags.push_back(flag);
    }
    return flags;
}

std::vector<const CLI::Option*> positionals_of(const CLI::App& app) {
    std::vector<const CLI::Option*> all;
    for (const CLI::Option* option : app.get_options())
        if (option->get_positional())
            all.push_back(option);
    return all;
}

std::string replaced(std::string text, char what, const std::string& with) {
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + with.size()))
        text.replace(at, 1, with);
    return text;
}

// Within single quotes of a Bourne shell; the same works in fish for what descriptions hold.
std::string in_quotes(const std::string& text) { return '\'' + replaced(text, '\'', "'\\''") + '\''; }

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

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

} // namespace

std::string bash_completion(const CLI::App& program) {
    std::ostringstream out;
    out << "# bash completion for holdtrue, written by 'holdtrue describe bash'\n"
           "_holdtrue() {\n"
           "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} path= k\n"
           "    for ((k = 1; k < COMP_CWORD; k++)); do\n"
           "        case \"$path ${COMP_WORDS[k]}\" in\n";
    for (const Command& command : all_commands(program))
        if (!command.path.empty())
            out << "            ' " << command.joined(" ") << "') path=' " << command.joined(" ") << "' ;;\n";
    out << "        esac\n"
           "    done\n"
           "    local commands= flags= valued=\n"
           "    case \"$path\" in\n";
    for (const Command& command : all_commands(program)) {
        std::string commands, flags, valued;
        for (const CLI::App* app : commands_of(*command.app))
            commands += (commands.empty() ? "" : " ") + app->get_name();
        for (const Flag& flag : flags_of(*command.app))
            for (const std::string& name : flag.names) {
                flags += (flags.empty() ? "" : " ") + name;
                if (flag.takes_value)
                    valued += ' ' + name;
            }
        out << "        '" << (command.path.empty() ? "" : ' ' + command.joined(" ")) << "') commands='" << commands
            << "' flags='" << flags << "' valued='" << valued << " ' ;;\n";
    }
    out << "    esac\n"
           "    if [[ \"$valued\" == *\" $before \"* ]]; then\n"
           "        COMPREPLY=($(compgen -f -- \"$word\"))\n"
           "    elif [[ $word == -* ]]; then\n"
           "        COMPREPLY=($(compgen -W \"$flags\" -- \"$word\"))\n"
           "    elif [[ -n $commands ]]; then\n"
           "        COMPREPLY=($(compgen -W \"$commands\" -- \"$word\"))\n"
           "    else\n"
           "        COMPREPLY=($(compgen -f -- \"$word\"))\n"
           "    fi\n"
           "}\n"
           "complete -o filenames -F _holdtrue holdtrue\n";
    return out.str();
}

std::string zsh_completion(const CLI::App& program) {
    const auto bracketed = [](const std::string& text) { // inside [ ] of _arguments
        return replaced(replaced(replaced(first_line(text), ']', "\\]"), '[', "\\["), ':', "\\:");
    };
    std::ostringstream out;
    out << "#compdef holdtrue\n# zsh completion for holdtrue, written by 'holdtrue describe zsh'\n\n";
    for (const Command& command : all_commands(program)) {
        const std::string name = "_holdtrue" + (command.path.empty() ? "" : '_' + command.joined("_"));
        const auto commands = commands_of(*command.app);
        out << name << "() {\n    local context state line\n";
        if (!commands.empty()) {
            out << "    local -a commands=(\n";
            for (const CLI::App* app : commands)
                out << "        " << in_quotes(app->get_name() + ':' + first_line(app->get_description())) << '\n';
            out << "    )\n";
        }
        out << "    _arguments -C";
        for (const Flag& flag : flags_of(*command.app))
            for (const std::string& flag_name : flag.names)
                out << " \\\n        "
                    << in_quotes(flag_name + '[' + bracketed(flag.description) + ']' +
                                 (flag.takes_value ? ":value:_files" : ""));
        if (commands.empty())
            out << " \\\n        '*:file:_files'\n";
        else {
            out << " \\\n        '1:command:->command' '*::argument:->argument'\n"
                   "    case $state in\n"
                   "        command) _describe command commands ;;\n"
                   "        argument)\n            case $line[1] in\n";
            for (const CLI::App* app : commands)
                out << "                " << app->get_name() << ") " << name << '_' << app->get_name() << " ;;\n";
            out << "            esac ;;\n    esac\n";
        }
        out << "}\n\n";
    }
    out << "_holdtrue \"$@\"\n";
    return out.str();
}

std::string fish_completion(const CLI::App& program) {
    std::ostringstream out;
    out << "# fish completion for holdtrue, written by 'holdtrue describe fish'\n";
    for (const Command& command : all_commands(program)) {
        // A command is at hand when all words of its path were seen and none of those below it.
        std::string when;
        for (const std::string& word : command.path)
            when += (when.empty() ? "" : "; and ") + ("__fish_seen_subcommand_from " + word);
        std::string below;
        for (const CLI::App* app : commands_of(*command.app))
            below += ' ' + app->get_name();
        if (!below.empty())
            when += (when.empty() ? "" : "; and ") + ("not __fish_seen_subcommand_from" + below);
        const std::string condition = when.empty() ? "" : " -n " + in_quotes(when);
        for (const CLI::App* app : commands_of(*command.app))
            out << "complete -c holdtrue -f" << condition << " -a " << app->get_name() << " -d "
                << in_quotes(first_line(app->get_description())) << '\n';
        for (const Flag& flag : flags_of(*command.app)) {
            out << "complete -c holdtrue" << condition;
            for (const std::string& name : flag.names)
                out << (name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1));
            out << (flag.takes_value ? " -r" : "") << " -d " << in_quotes(first_line(flag.description)) << '\n';
        }
    }
    return out.str();
}

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
                << names << (flag.takes_value ? " \\fIvalue\\fR" : "") << '\n'
                << troff(flag.description) << '\n';
        }
    };
    out << ".SH OPTIONS\n";
    flags(program);
    out << ".SH COMMANDS\n";
    for (const Command& command : all_commands(program)) {
        if (command.path.empty())
            continue;
        out << ".SS holdtrue " << troff(command.joined(" "));
        for (const CLI::Option* option : positionals_of(*command.app))
            out << ' ' << troff(option->get_required() ? option->get_name() : '[' + option->get_name() + ']');
        out << '\n' << troff(command.app->get_description()) << ".\n";
        for (const CLI::Option* option : positionals_of(*command.app))
            if (!option->get_description().empty())
                out << ".TP\n\\fI" << troff(option->get_name()) << "\\fR\n" << troff(option->get_description()) << '\n';
        flags(*command.app);
        if (const std::string footer = command.app->get_footer(); !footer.empty())
            out << ".PP\n.nf\n" << troff(footer) << "\n.fi\n";
    }
    out << ".SH EXIT STATUS\n"
           ".TP\n0\nfine, or passed\n.TP\n1\nnot passed\n.TP\n2\n"
           "something in a file or on the command line is wrong; each mistake is one line on standard error\n"
           ".SH ENVIRONMENT\n"
           ".TP\n.B XDG_DATA_HOME\nfolder of the record (default: ~/.local/share)\n"
           ".TP\n.B XDG_CACHE_HOME\nfolder of parts that were condensed before (default: ~/.cache); may be emptied\n"
           ".TP\n.B HOLDTRUE_ASSETS, HOLDTRUE_LESSONS\nother folders of parts, rules and fonts, and of lessons\n"
           ".SH FILES\n"
           ".TP\n.I ~/.local/share/holdtrue/record.sqlite\nattempts and answers; see \\fBholdtrue record\\fR\n"
           ".TP\n.I *.part.toml, *.shop.toml, *.plan.toml, *.exercise.toml\n"
           "part, shop, plan and exercise; \\fBholdtrue check\\fR explains mistakes in them\n";
    return out.str();
}

} // namespace holdtrue::command_line
