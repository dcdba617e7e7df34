// One function per command, each in a file of its own. It adds the command with its flags to the program; when the
// command line names it, its callback runs and puts the exit code into `exit_code` (0 fine or passed, 1 not passed).
// What a person got wrong is thrown as text::InputError and caught in run.cpp.
#pragma once

namespace CLI {
class App;
}

namespace holdtrue::command_line {

void add_check(CLI::App& program, int& exit_code);
void add_describe(CLI::App& program, int& exit_code);
void add_hand_in(CLI::App& program, int& exit_code);
void add_hand_out(CLI::App& program, int& exit_code);
void add_hint(CLI::App& program, int& exit_code);
void add_lesson(CLI::App& program, int& exit_code);
void add_record(CLI::App& program, int& exit_code);
void add_new(CLI::App& program, int& exit_code);
void add_order(CLI::App& program, int& exit_code);
void add_rules(CLI::App& program, int& exit_code);
void add_setup(CLI::App& program, int& exit_code);
void add_solve(CLI::App& program, int& exit_code);
void add_spread(CLI::App& program, int& exit_code);
void add_class(CLI::App& program, int& exit_code);
void add_unpack(CLI::App& program, int& exit_code);
void add_weld(CLI::App& program, int& exit_code);

} // namespace holdtrue::command_line
