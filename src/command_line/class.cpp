#include "command_line/check_output.h"
#include "command_line/commands.h"
#include "command_line/interrupt.h"
#include "command_line/named_choice.h"
#include "command_line/progress_bar.h"
#include "command_line/shipped_file.h"
#include "command_line/text_table.h"
#include "grading/read_exercise.h"
#include "parallel/agree.h"
#include "parallel/world.h"
#include "record/class_summary.h"
#include "report/class_report.h"
#include "text/atomic_file.h"
#include "text/printable.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>

namespace holdtrue::command_line {
namespace {

struct ClassChoices {
    std::filesystem::path exercise, folder;
    std::optional<std::filesystem::path> csv, report;
    report::SheetOptions sheet;
    record::ClassOptions marking;
};

std::string class_text(const grading::Exercise& exercise, const record::ClassMarks& marks) {
    TextTable table("lrrll");
    table.add({"plan", "variant", "mark", "", "note"});
    for (std::size_t k = 0; k < marks.entries.size(); ++k) {
        const record::ClassEntry& entry = marks.entries[k];
        const std::string note = record::remark_on(marks, k).english();
        table.add({shortened(entry.file.filename().string(), 40),
                   entry.variant > 0 ? std::to_string(entry.variant) : "",
                   entry.mark ? units::number_text(entry.mark->total, 1) : "-",
                   !entry.mark          ? "not marked"
                   : entry.mark->passed ? "passed"
                                        : "not passed",
                   shortened(note.substr(0, note.find('\n')), 90)});
    }
    std::string text = table.text();
    if (const auto remarks = record::common_remarks(marks); !remarks.empty())
        text += "\nMost common remark: " + remarks.front().topic.english() + ", in " +
                std::to_string(remarks.front().plans) + (remarks.front().plans == 1 ? " plan.\n" : " plans.\n");
    if (const text::Sentence copies = record::on_copies(marks); !copies.empty())
        text += "\n" + copies.english() + '\n';
    if (const auto& unjudged = exercise.rules->unjudged(); !unjudged.empty())
        text += "\nThis program cannot judge " + std::to_string(unjudged.size()) +
                (unjudged.size() == 1 ? " rule" : " rules") +
                " of the exercise, and the marks leave out what it cannot judge: "
                "'holdtrue check' on the exercise says more.\n";
    if (!marks.left_out.empty()) {
        text += "\nLeft out, because only .plan.toml and .handin.zip files directly in the folder are marked: ";
        for (const std::string& name : marks.left_out)
            text += (&name == &marks.left_out.front() ? "" : ", ") + text::printable(name);
        text += '\n';
    }
    return text;
}

void check_outputs(const ClassChoices& choices) {
    if (choices.report)
        report::check_sheet_name(*choices.report);
    for (const auto& file : {choices.csv, choices.report})
        if (file)
            check_output(*file);
}

int mark_all(const ClassChoices& choices) {
    const InterruptWatch watch;
    const std::unique_ptr<parallel::Communicator> world = parallel::world();
    const grading::Exercise exercise = parallel::agreed(*world, [&] {
        if (world->leads())
            check_outputs(choices);
        return grading::read_exercise(choices.exercise);
    });
    record::ClassOptions marking = choices.marking;
    marking.communicator = world.get();
    record::ClassMarks marks;
    {
        record::ClassProgress progress;
        std::optional<ProgressBar> bar;
        if (world->leads())
            bar.emplace(
                [&progress] { return progress.all > 0 ? static_cast<double>(progress.done) / progress.all : 0.0; },
                [&progress] {
                    return std::to_string(progress.done) + " of " + std::to_string(progress.all) + " plans";
                });
        marks = record::mark_class(exercise, choices.folder, marking, &progress, watch.token());
    }
    if (!world->leads())
        return marks.cancelled ? exit_interrupted : 0;
    if (marks.cancelled) {
        std::fprintf(stderr, "stopped; nothing was written\n");
        return exit_interrupted;
    }
    std::printf("%s", class_text(exercise, marks).c_str());
    if (choices.csv)
        text::write_atomically(*choices.csv, record::class_csv(exercise, marks));
    if (choices.report)
        report::save_class_report(*choices.report, exercise, marks, choices.sheet);
    return 0;
}

} // namespace

void add_class(CLI::App& program, int& exit_code) {
    CLI::App* command =
        program.add_subcommand("class", "Marks all plans in a folder, flags copies, and sums the class up");
    auto choices = std::make_shared<ClassChoices>();
    add_file(*command, "EXERCISE", choices->exercise, FileKind::exercise, "exercise file (.exercise.toml)")->required();
    command->add_option("FOLDER", choices->folder, "folder with plans (.plan.toml) and hand-ins (.handin.zip)")
        ->required();
    command->add_option("--csv", choices->csv, "save one row per plan for a spreadsheet");
    command->add_option("--report", choices->report, "save the class report (.pdf)");
    command->add_option("--threads", choices->marking.threads, "how many plans at once; by default one per core")
        ->check(CLI::Range(1, 256));
    add_named_choice<units::System>(*command, "--units", choices->sheet.system,
                                    {{"metric", units::System::metric}, {"imperial", units::System::imperial}},
                                    "metric or imperial, for what people read");
    add_named_choice<report::Paper>(*command, "--paper", choices->sheet.paper,
                                    {{"a4", report::Paper::a4}, {"letter", report::Paper::letter}}, "a4 or letter");
    command->footer("A plan that cannot be read is listed with its problem and stops nothing.\n"
                    "Built with MPI, 'mpirun -n 4 holdtrue class ...' shares the plans over processes.\n"
                    "Example: holdtrue class arm.exercise.toml handed_in/ --csv marks.csv --report class.pdf");
    command->callback([choices, &exit_code] { exit_code = mark_all(*choices); });
}

} // namespace holdtrue::command_line
