#include "weld/read_plan.h"

#include "arc/read_card.h"
#include "text/names.h"
#include "text/toml_reader.h"
#include "weld/check_plan.h"
#include "weld/choose_card.h"

#include <algorithm>
#include <array>

namespace holdtrue::weld {
namespace {

using text::Document;
using text::Table;
using text::worded;

constexpr std::size_t most_moves = 10000; // longer than any job; a plan cannot ask for days of simulation

template <class Named>
std::vector<std::string> names_of(const std::vector<Named>& list) {
    std::vector<std::string> names;
    for (const Named& entry : list)
        names.push_back(entry.name);
    return names;
}

// The passes a word names: one pass, or all runs (or plugs) of a joint, or all its tacks.
std::vector<int> passes_named(const Table& table, std::string_view key, const std::string& word,
                              const part::Part& part) {
    if (const int pass = part::find_pass(part, word); pass >= 0)
        return {pass};
    const bool tacks = key == "tack";
    const int joint = part::find_joint(part, word);
    if (joint < 0) {
        std::vector<std::string> known = names_of(part.joints);
        for (const part::Pass& pass : part.passes)
            known.push_back(pass.name);
        text::find_named(table, key, word, worded("pass or joint"), known);
        return {};
    }
    std::vector<int> passes;
    for (std::size_t k = 0; k < part.passes.size(); ++k)
        if (part.passes[k].joint == joint && (part.passes[k].kind == part::PassKind::tack) == tacks)
            passes.push_back(static_cast<int>(k));
    if (passes.empty())
        table.problem(key, {tacks ? worded("joint {0} has no tacks") : worded("joint {0} has no passes"), {word}},
                      tacks ? worded("leave the move out; see tacks in the part file")
                            : worded("see passes in the part file"));
    return passes;
}

void read_welds(Table& table, std::string_view key, const part::Part& part, Plan& plan) {
    const bool reversed = table.flag("reverse", false);
    int named_card = -1;
    if (table.has("card"))
        named_card = text::find_named(table, "card", table.text("card"), worded("card"), names_of(plan.cards));
    else
        table.know({"card"});
    for (const std::string& word : table.one_or_more(key))
        for (const int pass : passes_named(table, key, word, part)) {
            const int card = named_card >= 0 ? named_card : choose_card(part, pass, plan.cards);
            plan.moves.push_back({WeldPass{pass, reversed, card}, table.line()});
        }
}

void read_move(Table& table, const part::Part& part, Plan& plan) {
    const bool waits = table.has_quantity("wait", units::time);
    const bool waits_below = table.has_quantity("wait_until_below", units::temperature);
    constexpr std::array<std::string_view, 5> words{"weld", "tack", "turn", "fix", "free"};
    std::string_view what;
    int count = waits || waits_below;
    for (const std::string_view word : words)
        if (table.has(word)) {
            what = word;
            ++count;
        }
    if (count != 1) {
        table.know({"weld", "tack", "turn", "fix", "free", "wait_s", "wait_min", "wait_until_below_c",
                    "wait_until_below_f", "card", "reverse"});
        // A wait without a unit is told as such by the reader of quantities.
        if (count == 0 && (table.has("wait") || table.has("wait_until_below"))) {
            table.optional_quantity("wait", units::time);
            table.optional_quantity("wait_until_below", units::temperature);
        } else
            table.problem("",
                          count == 0 ? worded("the move does nothing") : worded("the move does more than one thing"),
                          worded("give it one of weld, tack, wait_s, wait_until_below_c, turn, fix and free"));
        return;
    }
    if (waits || waits_below) {
        Wait wait;
        wait.time_s = table.quantity("wait", units::time, {0, 86400}, 0.0);
        wait.until_below_k =
            table.optional_quantity("wait_until_below", units::temperature, {units::celsius(-20), units::celsius(600)});
        plan.moves.push_back({wait, table.line()});
    } else if (what == "turn") {
        const int pose = text::find_named(table, "turn", table.text("turn"), worded("pose"), names_of(part.poses));
        plan.moves.push_back({Turn{pose}, table.line()});
    } else if (what == "fix" || what == "free") {
        for (const std::string& word : table.one_or_more(what)) {
            const int clamp = text::find_named(table, what, word, worded("clamp"), names_of(part.clamps));
            plan.moves.push_back({ClampMove{clamp, what == "fix"}, table.line()});
        }
    } else
        read_welds(table, what, part, plan);
}

PlanHeading heading_of(Document& document) {
    Table root = document.root();
    PlanHeading heading;
    heading.file = document.file();
    heading.title = root.text("title", "");
    heading.trainee = root.text("trainee", "");
    heading.exercise = root.text("exercise", "");
    if (root.has("variant")) {
        heading.variant = root.integer("variant", 0, highest_variant, 0);
        heading.variant_line = root.line("variant");
    } else
        root.know({"variant"});
    heading.hints = root.integer("hints", 0, 100, 0);
    return heading;
}

Plan read(Document document, const part::Part& part, const arc::Shop& shop) {
    Plan plan;
    plan.file = document.file();
    Table root = document.root();
    const PlanHeading heading = heading_of(document);
    plan.title = heading.title;
    plan.trainee = heading.trainee;
    plan.exercise = heading.exercise;
    plan.variant = heading.variant;
    plan.hints = heading.hints;
    // What could be read is looked at more closely, even if something else could not: all mistakes are told at once.
    std::vector<bool> card_read;
    for (Table table : root.tables("card")) {
        const std::size_t before = document.problem_count();
        plan.cards.push_back(arc::read_card(table, shop, names_of(plan.cards)));
        card_read.push_back(document.problem_count() == before);
    }
    if (plan.cards.empty() && !root.has("card"))
        root.problem("", worded("the plan has no setting card"),
                     worded("add [[card]] with wire, gas, volts, wire feed and travel"));
    const std::size_t before_moves = document.problem_count();
    for (Table table : root.tables("move")) {
        read_move(table, part, plan);
        if (plan.moves.size() > most_moves) {
            table.problem("", {worded("the plan has more than {0} moves"), {std::to_string(most_moves)}},
                          worded("leave some out"));
            document.throw_problems(); // what comes after was not looked at
        }
    }
    const bool moves_read = !plan.cards.empty() && document.problem_count() == before_moves;
    const std::size_t before_predictions = document.problem_count();
    for (Table table : root.tables("predict")) {
        const int gauge = text::find_named(table, "gauge", table.text("gauge"), worded("gauge"), names_of(part.gauges));
        const Sense sense = table.choice<Sense>(
            "sense", {{"shrinks", Sense::shrinks}, {"stays", Sense::stays}, {"grows", Sense::grows}});
        plan.predictions.push_back({gauge, sense, table.line()});
    }
    const bool predictions_read = document.problem_count() == before_predictions;

    std::vector<text::Problem> found;
    for (PlanProblem& each : check_plan(plan, part, shop)) {
        const bool was_read = each.move >= 0   ? moves_read
                              : each.card >= 0 ? card_read[static_cast<std::size_t>(each.card)]
                                               : predictions_read;
        // One entry of the file can stand for many moves: what is wrong with it is told once.
        if (was_read && (each.move < 0 || found.empty() || found.back().line != each.told.line))
            found.push_back(std::move(each.told));
    }
    document.add(std::move(found));
    document.finish();
    return plan;
}

} // namespace

Plan read_plan(const std::filesystem::path& path, const part::Part& part, const arc::Shop& shop) {
    return read(Document::read(path), part, shop);
}

Plan parse_plan(std::string_view toml, const std::string& file_name, const part::Part& part, const arc::Shop& shop) {
    return read(Document::parse(toml, file_name), part, shop);
}

PlanHeading read_heading(const std::filesystem::path& plan_file) {
    Document document = Document::read(plan_file);
    PlanHeading heading = heading_of(document);
    // Only what was asked for can be wrong here: the rest is not looked at.
    document.throw_problems();
    return heading;
}

PlanHeading parse_heading(std::string_view toml, const std::string& file_name) {
    Document document = Document::parse(toml, file_name);
    PlanHeading heading = heading_of(document);
    document.throw_problems();
    return heading;
}

std::filesystem::path exercise_of(const std::filesystem::path& plan_file) {
    Document document = Document::read(plan_file);
    const std::string named = document.root().text("exercise", "");
    if (named.empty())
        return {};
    const std::filesystem::path file = plan_file.parent_path() / named;
    std::error_code ignored; // a loop of links, a name too long: no file either
    if (!std::filesystem::is_regular_file(file, ignored)) {
        document.root().problem("exercise", {worded("there is no file {0}"), {named}},
                                worded("give the path from the plan's own folder"));
        document.throw_problems();
    }
    return file;
}

} // namespace holdtrue::weld
