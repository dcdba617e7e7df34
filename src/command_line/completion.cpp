#include "command_line/describe.h"
#include "command_line/described.h"

#include <sstream>

namespace holdtrue::command_line {
namespace {

// Within single quotes of a Bourne shell; the same works in fish for what descriptions hold.
std::string in_quotes(const std::string& text) { return '\'' + replaced(text, '\'', "'\\''") + '\''; }

std::string key_of(const Command& command) { return command.path.empty() ? "" : ' ' + joined(command.path); }

} // namespace

// The script walks along the words before the cursor: which command they lead to (path) and how many of its arguments
// stand there already (place).
std::string bash_completion(const CLI::App& program) {
    const std::vector<Command> all = all_commands(program);
    std::ostringstream out;
    out << "# bash completion for holdtrue, written by 'holdtrue describe bash'\n"
           "_holdtrue_command() {\n"
           "    case \"$1\" in\n";
    for (const Command& command : all) {
        std::vector<std::string> commands, flags, valued;
        for (const CLI::App* app : commands_of(*command.app))
            commands.push_back(app->get_name());
        for (const Flag& flag : flags_of(*command.app))
            for (const std::string& name : flag.names) {
                flags.push_back(name);
                if (flag.takes_value)
                    valued.push_back(name);
            }
        out << "        '" << key_of(command) << "') commands='" << joined(commands) << "' flags='" << joined(flags)
            << "' valued=' " << joined(valued) << " ' ;;\n";
    }
    out << "        *) return 1 ;;\n"
           "    esac\n"
           "}\n"
           "# Words that may stand for a value; without a line here it is a file.\n"
           "_holdtrue_values() {\n"
           "    case \"$1\" in\n";
    for (const Command& command : all) {
        const auto line = [&](const std::string& where, const Values& values) {
            if (!values.words.empty())
                out << "        '" << key_of(command) << ' ' << where << "') words='" << joined(values.words) << "'"
                    << (values.files ? "" : " files=") << " ;;\n";
        };
        for (const Flag& flag : flags_of(*command.app))
            for (const std::string& name : flag.names)
                line(name, flag.values);
        int number = 0;
        for (const Place& place : places_of(*command.app))
            line(std::to_string(number++), place.values);
    }
    out << "    esac\n"
           "}\n"
           "_holdtrue() {\n"
           "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}\n"
           "    local path= place=0 skip= words= files=1 k commands flags valued\n"
           "    _holdtrue_command ''\n"
           "    for ((k = 1; k < COMP_CWORD; k++)); do\n"
           "        if [[ ${COMP_WORDS[k]} == = ]]; then skip=1\n"
           "        elif [[ -n $skip ]]; then skip=\n"
           "        elif [[ ${COMP_WORDS[k]} == -* ]]; then\n"
           "            [[ $valued == *\" ${COMP_WORDS[k]} \"* ]] && skip=1\n"
           "        elif _holdtrue_command \"$path ${COMP_WORDS[k]}\"; then path+=\" ${COMP_WORDS[k]}\"\n"
           "        else ((place++))\n"
           "        fi\n"
           "    done\n"
           "    [[ $before == = ]] && before=${COMP_WORDS[COMP_CWORD-2]} # --units=metric\n"
           "    [[ $word == = ]] && word=\n"
           "    if [[ $valued == *\" $before \"* ]]; then _holdtrue_values \"$path $before\"\n"
           "    elif [[ $word == -* ]]; then words=$flags files=\n"
           "    elif [[ -n $commands ]]; then words=$commands files=\n"
           "    else _holdtrue_values \"$path $place\"\n"
           "    fi\n"
           "    COMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n"
           "    [[ -z $files ]] || COMPREPLY+=($(compgen -f -- \"$word\"))\n"
           "}\n"
           "complete -o filenames -F _holdtrue holdtrue\n";
    return out.str();
}

std::string zsh_completion(const CLI::App& program) {
    const auto bracketed = [](const std::string& text) { // inside [ ] of _arguments
        return replaced(replaced(replaced(first_line(text), ']', "\\]"), '[', "\\["), ':', "\\:");
    };
    const auto action = [](const Values& values) {
        if (values.words.empty())
            return std::string("_files");
        const std::string words = '(' + joined(values.words) + ')';
        return values.files ? " _alternative \"names:name:" + words + "\" \"files:file:_files\"" : words;
    };
    std::ostringstream out;
    out << "#compdef holdtrue\n# zsh completion for holdtrue, written by 'holdtrue describe zsh'\n\n";
    for (const Command& command : all_commands(program)) {
        const std::string name = "_holdtrue" + (command.path.empty() ? "" : '_' + joined(command.path, "_"));
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
                                 (flag.takes_value ? ":value:" + action(flag.values) : ""));
        if (commands.empty()) {
            int number = 0;
            for (const Place& place : places_of(*command.app)) {
                ++number;
                out << " \\\n        "
                    << in_quotes((place.repeats ? "*" : std::to_string(number)) + ':' + place.name + ':' +
                                 action(place.values));
            }
            out << '\n';
        } else {
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
        for (const Place& place : places_of(*command.app))
            if (!place.values.words.empty())
                out << "complete -c holdtrue" << (place.values.files ? "" : " -f") << condition << " -a "
                    << in_quotes(joined(place.values.words)) << '\n';
        for (const Flag& flag : flags_of(*command.app)) {
            out << "complete -c holdtrue" << condition;
            for (const std::string& name : flag.names)
                out << (name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1));
            if (flag.takes_value)
                out << (flag.values.files ? " -r" : " -x");
            if (!flag.values.words.empty())
                out << " -a " << in_quotes(joined(flag.values.words));
            out << " -d " << in_quotes(first_line(flag.description)) << '\n';
        }
    }
    return out.str();
}

} // namespace holdtrue::command_line
