#include "arc/calibration_sheet.h"
#include "command_line/commands.h"
#include "command_line/setup_report.h"
#include "command_line/setup_request.h"
#include "report/sheet.h"
#include "text/input_error.h"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <cstdio>
#include <memory>

namespace holdtrue::command_line {
namespace {

SetupAnswer answer_to(SetupRequest& request) {
    const arc::RuleBook book = arc::RuleBook::read();
    SetupAnswer answer;
    answer.card = request.card;
    if (request.wire_open || request.gas_open || request.tip_open)
        answer.card = arc::choose_consumables(book, request.card, request.shop, request.section, request.open,
                                              {request.wire_open, request.gas_open, request.tip_open});
    if (request.any_open()) {
        answer.proposed = true;
        answer.proposal = arc::propose(book, answer.card, request.shop, request.section, request.open, request.system);
        if (answer.proposal.window)
            answer.card = answer.proposal.window->card;
    }
    answer.figures = arc::setup_figures(answer.card, request.shop, request.section);
    answer.findings = book.judge(answer.card, request.shop, request.section, answer.figures, request.system);
    return answer;
}

int setup(const SetupFlags& flags) {
    if (flags.calibration_sheet) {
        SetupFlags only = flags; // the sheet asks nothing of the joint
        if (only.t1.empty())
            only.t1 = "3mm";
        const SetupRequest request = read_request(only);
        const arc::PowerSource* source = request.shop.sources.empty() ? nullptr : &request.shop.sources.front();
        const arc::CalibrationSheet sheet = arc::calibration_sheet(source);
        if (flags.out.empty())
            std::fputs(arc::in_text(sheet, request.system).c_str(), stdout);
        else
            report::save_calibration_sheet(
                flags.out, sheet,
                {flags.paper == "letter" ? report::Paper::letter : report::Paper::a4, request.system});
        return 0;
    }
    if (!flags.out.empty())
        throw text::InputError("", 0, text::in_english("--out goes with --calibration-sheet"),
                               text::in_english("for other figures use --json"));
    SetupRequest request = read_request(flags);
    const SetupAnswer answer = answer_to(request);
    const std::string out =
        flags.json ? setup_json(request, answer).dump(2) + "\n" : setup_text(request, answer, flags.all);
    std::fputs(out.c_str(), stdout);
    if (answer.proposed && !answer.proposal.window)
        return 1;
    return arc::worst(answer.findings) == arc::Verdict::fail ? 1 : 0;
}

} // namespace

void add_setup(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand(
        "setup", "Settings for a joint: what they do and whether they suit; without volts, feed and travel a window");
    auto flags = std::make_shared<SetupFlags>();
    add_flags(*command, *flags);
    command->footer("Examples:\n"
                    "  holdtrue setup --process 135 --wire 0.8 --gas \"75Ar 25CO2\" --joint fillet --t1 3 --t2 8\n"
                    "  holdtrue setup --process 135 --wire 0.8 --gas \"75Ar 25CO2\" --joint lap --t1 3 --t2 3 \\\n"
                    "                 --volts 18.5 --feed 6.4 --travel 5 --tip 12");
    command->callback([flags, &exit_code] { exit_code = setup(*flags); });
}

} // namespace holdtrue::command_line
