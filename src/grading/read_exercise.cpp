#include "grading/read_exercise.h"

#include "arc/read_shop.h"
#include "grading/read_must_pass.h"
#include "grading/read_variants.h"
#include "part/gauge_limit.h"
#include "part/read_part.h"
#include "text/names.h"
#include "text/toml_reader.h"
#include "text/verify.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::grading {
namespace {

using text::Table;
using text::worded;

std::filesystem::path beside(const Table& table, const std::string& named) {
    return (std::filesystem::path(table.file()).parent_path() / named).lexically_normal();
}

std::shared_ptr<const part::Part> read_plain_part(const std::filesystem::path& file) { return part::read_part(file); }

// The part or shop that a key names; a file that is wrong adds its own problems to `found`.
template <class Value>
std::shared_ptr<const Value> read_named(Table& root, std::string_view key,
                                        std::shared_ptr<const Value> (*read)(const std::filesystem::path&),
                                        std::vector<text::Problem>& found) {
    const std::string named = root.text(key);
    if (named.empty())
        return nullptr;
    const std::filesystem::path file = beside(root, named);
    std::error_code ignored; // a loop of links, a name too long: no file either
    if (!std::filesystem::is_regular_file(file, ignored)) {
        root.problem(key, {worded("there is no file {0}"), {file.string()}},
                     worded("give the path from the exercise's own folder"));
        return nullptr;
    }
    try {
        return read(file);
    } catch (const text::InputError& error) {
        found.insert(found.end(), error.problems().begin(), error.problems().end());
        return nullptr;
    }
}

Weights read_weights(Table& root) {
    Weights weights;
    std::optional<Table> table = root.table("weights");
    if (!table)
        return weights;
    const text::Range share{0, 100};
    weights.settings = table->number("settings", share);
    weights.order_and_heat = table->number("order_and_heat", share);
    weights.gauges = table->number("gauges", share);
    weights.prediction = table->number("prediction", share);
    weights.time_and_handling = table->number("time_and_handling", share);
    const double sum =
        weights.settings + weights.order_and_heat + weights.gauges + weights.prediction + weights.time_and_handling;
    if (std::abs(sum - 100) > 0.01)
        table->problem("", {worded("the weights sum to {0}"), {std::to_string(static_cast<int>(std::lround(sum)))}},
                       worded("they are shares of the mark: make them sum to 100"));
    return weights;
}

HeatLimits read_heat(Table& root) {
    HeatLimits heat;
    std::optional<Table> table = root.table("heat");
    if (table) {
        heat.interpass_max_k = table->quantity("interpass_max", units::temperature,
                                               {units::celsius(40), units::celsius(500)}, heat.interpass_max_k);
        heat.interpass_source = table->text("interpass_source", "");
        heat.even_heat_max_k = table->number("even_heat_max_k", {0, 1000}, 0.0);
    }
    if (heat.interpass_source.empty())
        heat.interpass_source = text::worded("limit of the exercise");
    return heat;
}

TimeLimits read_time(Table& root) {
    TimeLimits time;
    std::optional<Table> table = root.table("time");
    if (!table) {
        root.problem("", worded("the exercise has no [time]"),
                     worded("add [time] with good_min, slow_min, turns_good, turns_many"));
        return time;
    }
    time.good_s = table->quantity("good", units::time, {1, 1e6});
    time.slow_s = table->quantity("slow", units::time, {1, 1e6});
    time.turns_good = table->integer("turns_good", 0, 1000);
    time.turns_many = table->integer("turns_many", 1, 1000);
    if (time.slow_s <= time.good_s)
        table->problem("slow", worded("slow is not longer than good"),
                       worded("full marks up to good, none from slow on"));
    if (time.turns_many <= time.turns_good)
        table->problem("turns_many", worded("turns_many is not more than turns_good"),
                       worded("full marks up to turns_good, none from turns_many on"));
    return time;
}

std::vector<std::string> gauge_names(const part::Part& part) {
    std::vector<std::string> names;
    for (const part::Gauge& gauge : part.gauges)
        names.push_back(gauge.name);
    return names;
}

// The part with the exercise's own limits in place of those of the part file.
std::shared_ptr<part::Part> with_limits(Table& root, const part::Part& part) {
    auto own = std::make_shared<part::Part>(part);
    std::vector<bool> limited(own->gauges.size(), false);
    for (Table table : root.tables("limit")) {
        const std::string name = table.text("gauge");
        const int gauge = part::find_gauge(part, name);
        if (gauge < 0) {
            if (table.has("gauge"))
                text::find_named(table, "gauge", name, worded("gauge"), gauge_names(part));
            table.know({"tolerance_mm", "tolerance_in", "tolerance_deg", "class"});
            continue;
        }
        const auto g = static_cast<std::size_t>(gauge);
        if (limited[g])
            table.problem("gauge", {worded("gauge {0} has two limits"), {name}}, worded("keep one of the two"));
        limited[g] = true;
        part::read_limit(table, own->gauges[g]);
    }
    return own;
}

// Works without these clamps: those that the list names, or all of them.
void take_clamps_off(Table& root, part::Part& part) {
    if (!root.has("without_clamps")) {
        root.know({"without_clamps"});
        return;
    }
    std::vector<std::string> names;
    for (const part::Clamp& clamp : part.clamps)
        names.push_back(clamp.name);
    const std::vector<std::string> off = root.one_or_more("without_clamps");
    if (off == std::vector<std::string>{"all"}) {
        part.clamps.clear();
        return;
    }
    for (const std::string& name : off)
        text::find_named(root, "without_clamps", name, worded("clamp"), names);
    std::erase_if(part.clamps,
                  [&](const part::Clamp& clamp) { return std::ranges::find(off, clamp.name) != off.end(); });
}

// The joints that belong to the task, by name or by card group; all of them when the exercise names none.
std::vector<bool> read_joints(Table& root, const part::Part& part) {
    std::vector<bool> required(part.joints.size(), !root.has("joints"));
    if (!root.has("joints")) {
        root.know({"joints"});
        return required;
    }
    for (const std::string& word : root.one_or_more("joints")) {
        bool found = false;
        std::vector<std::string> known;
        for (std::size_t j = 0; j < part.joints.size(); ++j) {
            known.push_back(part.joints[j].name);
            if (part.joints[j].name == word || part.joints[j].card_group == word)
                required[j] = found = true;
        }
        if (!found)
            text::find_named(root, "joints", word, worded("joint or card group"), known);
    }
    return required;
}

std::vector<Hint> read_hints(Table& root) {
    std::vector<Hint> hints;
    for (Table& table : root.tables("hint")) {
        Hint hint;
        hint.text = table.text("text");
        hint.cost = table.number("cost", {0, 50});
        hints.push_back(std::move(hint));
    }
    return hints;
}

// The rules beside the exercise that it names a folder of, or else the shipped ones.
std::shared_ptr<const arc::RuleBook> read_rules(Table& root, std::vector<text::Problem>& found) {
    const std::string folder = root.text("rules", "");
    try {
        return std::make_shared<const arc::RuleBook>(folder.empty() ? arc::RuleBook::read()
                                                                    : arc::RuleBook::read(beside(root, folder)));
    } catch (const text::InputError& error) {
        found.insert(found.end(), error.problems().begin(), error.problems().end());
        return std::make_shared<const arc::RuleBook>();
    }
}

} // namespace

Exercise read_exercise(const std::filesystem::path& path, int variant) {
    text::Document document = text::Document::read(path);
    Table root = document.root();
    Exercise exercise;
    exercise.file = path;
    exercise.name = text::read_name(root, worded("exercise"), {});
    exercise.title = root.text("title");
    exercise.level = root.integer("level", 1, 3);
    exercise.place = root.integer("place", 1, 99, 99);
    for (std::string& paragraph : root.one_or_more("brief"))
        exercise.brief.push_back(text::Sentence::of_file(std::move(paragraph)));
    exercise.cautions = root.texts("cautions", false);
    exercise.pass_mark = root.number("pass_mark", {0, 100}, exercise.pass_mark);
    exercise.all_passes_required = root.flag("all_passes_required", true);

    std::vector<text::Problem> of_others;
    exercise.part = read_named(root, "part", read_plain_part, of_others);
    exercise.shop = read_named(root, "shop", arc::read_shop, of_others);
    exercise.rules = read_rules(root, of_others);
    exercise.weights = read_weights(root);
    exercise.heat = read_heat(root);
    exercise.time = read_time(root);
    if (exercise.part) {
        const std::shared_ptr<part::Part> own = with_limits(root, *exercise.part);
        take_clamps_off(root, *own);
        exercise.joint_required = read_joints(root, *own);
        exercise.part = own;
        exercise.must_pass = read_must_pass(root, *exercise.part, *exercise.rules);
    } else
        root.know({"limit", "without_clamps", "joints", "must_pass"});
    exercise.hints = read_hints(root);
    exercise.lessons = root.texts("lessons", false);
    std::vector<VariantAspect> aspects;
    if (exercise.part && exercise.shop)
        aspects = read_variants(root, *exercise.part, *exercise.shop, *exercise.rules);
    else
        root.know({"variant"});
    exercise.variant_count = count_variants(aspects);
    try {
        document.finish();
    } catch (const text::InputError& error) {
        of_others.insert(of_others.begin(), error.problems().begin(), error.problems().end());
    }
    if (!of_others.empty())
        throw text::InputError(std::move(of_others));
    VERIFY(variant >= 0 && variant <= exercise.variant_count, "no such variant of the exercise");
    if (variant > 0)
        take_variant(exercise, aspects, variant);
    return exercise;
}

} // namespace holdtrue::grading
