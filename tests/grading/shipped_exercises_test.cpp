// Every shipped exercise with every plan that ships beside it: in each variant a model plan passes with a good mark,
// each other plan scores clearly less than the model plan, does not pass, and is told why, in Spanish too.
#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "text/input_error.h"
#include "text/untranslated.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>
#include <utility>

using namespace holdtrue;

namespace {

const std::filesystem::path folder = std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons/exercises";
const std::set<std::string> parts{"tee_coupon", "lap_strip", "rail_frame", "ribbed_deck", "pivot_bracket", "lift_arm"};

std::vector<std::filesystem::path> files_ending(const std::string& ending, const std::string& beginning = "") {
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (name.starts_with(beginning) && name.ends_with(ending))
            files.push_back(entry.path());
    }
    std::ranges::sort(files);
    return files;
}

bool is_model(const std::filesystem::path& plan) {
    return plan.filename().string().find(".model") != std::string::npos;
}

// Every sentence of a mark has its Spanish.
void check_in_spanish(const grading::Mark& mark) {
    static const auto spanish =
        text::Translation::read(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/translations/es");
    std::vector<std::string> missing = text::test::untranslated(spanish, mark.why_not);
    for (const grading::Remark& remark : mark.remarks)
        for (const text::Sentence* told : {&remark.topic, &remark.chosen, &remark.measured, &remark.limit,
                                           &remark.source, &remark.consequence, &remark.try_this})
            text::test::find_untranslated(spanish, *told, missing);
    for (const std::string& english : missing)
        FAIL_CHECK("not translated: " << english);
}

// Welds plans for one part, and nothing twice: what is welded hangs on the plan, the sheets and the clamps; shop,
// limits and times of a variant only decide what it is worth.
class Bench {
public:
    // Nothing when the plan cannot be carried out in this variant: a wire or gas that is not on hand.
    std::optional<grading::Mark> mark_of(const grading::Exercise& exercise, const std::filesystem::path& file) {
        weld::Plan plan;
        try {
            plan = weld::read_plan(file, *exercise.part, *exercise.shop);
        } catch (const text::InputError&) {
            return std::nullopt;
        }
        std::vector<double> make;
        for (const part::Panel& panel : exercise.part->panels)
            make.push_back(panel.thickness_m);
        make.push_back(static_cast<double>(exercise.part->clamps.size()));
        auto& condensed = condensed_[make];
        if (!condensed)
            condensed = weld::condense(*exercise.part, coarse_);
        auto& outcome = outcomes_[{file, make}];
        if (!outcome)
            outcome =
                weld::simulate(exercise.part, exercise.shop, plan, {.element_scale = coarse_, .condensed = condensed});
        weld::Outcome own = *outcome;
        own.part = exercise.part;
        own.shop = exercise.shop;
        grading::Mark mark = grading::grade(exercise, own);
        check_in_spanish(mark);
        return mark;
    }

private:
    static constexpr double coarse_ = 1.6; // what separates plans must not hang on a fine mesh
    std::map<std::vector<double>, std::shared_ptr<const distortion::CondensedPart>> condensed_;
    std::map<std::pair<std::filesystem::path, std::vector<double>>, std::shared_ptr<const weld::Outcome>> outcomes_;
};

void check_wrong_plan(Bench& bench, const grading::Exercise& exercise, const std::filesystem::path& plan,
                      double model) {
    const std::optional<grading::Mark> mark = bench.mark_of(exercise, plan);
    REQUIRE(mark);
    INFO(plan.filename().string() << " " << mark->total << " " << mark->why_not.english());
    CHECK(mark->total < model - 4);
    // Its gravest remark says what, how much, against what, and one thing to try.
    const grading::Remark& gravest = mark->remarks.front();
    CHECK(gravest.verdict == grading::Verdict::fail);
    CHECK(!gravest.chosen.empty());
    CHECK(!gravest.measured.empty());
    CHECK(!gravest.limit.empty());
    CHECK(!gravest.source.empty());
    CHECK(!gravest.try_this.empty());
}

void check_exercise(Bench& bench, const std::filesystem::path& file) {
    const grading::Exercise exercise = grading::read_exercise(file);
    const auto plans = files_ending(".plan.toml", exercise.name + ".");
    CHECK(std::ranges::count_if(plans, is_model) >= 1);
    CHECK(std::ranges::count_if(plans, [](const auto& plan) { return !is_model(plan); }) >= 2);
    CHECK(exercise.hints.size() >= 2);
    CHECK(exercise.variant_count >= 4);

    const std::optional<grading::Mark> model = bench.mark_of(exercise, folder / (exercise.name + ".model.plan.toml"));
    REQUIRE(model);
    INFO(exercise.name << " model " << model->total << " " << model->why_not.english());
    CHECK(model->passed);
    CHECK(model->total >= 80);
    for (const auto& plan : plans)
        if (!is_model(plan))
            check_wrong_plan(bench, exercise, plan, model->total);

    int own_work = 0; // variants in which a copy of the model plan does not do, or clearly less well
    for (int variant = 1; variant <= exercise.variant_count; ++variant) {
        const grading::Exercise drawn = grading::read_exercise(file, variant);
        double best = 0;
        std::string why_not;
        bool passed = false;
        for (const auto& plan : plans)
            if (const auto mark = is_model(plan) ? bench.mark_of(drawn, plan) : std::nullopt;
                mark && std::pair(mark->passed, mark->total) > std::pair(passed, best)) {
                best = mark->total;
                passed = mark->passed;
                why_not = mark->why_not.english();
            }
        INFO(exercise.name << " variant " << variant << ": " << drawn.variant_words.back() << ", best model " << best
                           << " " << why_not);
        CHECK(passed);
        CHECK(best >= 80);
        const auto copy = bench.mark_of(drawn, folder / (exercise.name + ".model.plan.toml"));
        own_work += !copy || !copy->passed || copy->total < best - 3;
    }
    INFO(exercise.name << ": the model plan does not do in " << own_work << " of " << exercise.variant_count);
    CHECK(own_work * 3 >= exercise.variant_count);
}

// One process for all exercises on a part: it is condensed once.
void check_part(const std::string& part) {
    Bench bench;
    int found = 0;
    for (const auto& file : files_ending(".exercise.toml")) {
        if (grading::read_exercise(file).part->name != part)
            continue;
        check_exercise(bench, file);
        ++found;
    }
    CHECK(found >= 2);
}

} // namespace

TEST_CASE("twelve exercises or more, over all parts and levels") {
    std::map<std::string, int> of_part;
    std::map<int, int> of_level;
    for (const auto& file : files_ending(".exercise.toml")) {
        const grading::Exercise exercise = grading::read_exercise(file);
        CHECK(parts.contains(exercise.part->name)); // or it has no case below
        ++of_part[exercise.part->name];
        ++of_level[exercise.level];
    }
    CHECK(of_part.size() == parts.size());
    CHECK(of_level.size() == 3);
    for (const auto& [level, count] : of_level)
        CHECK_MESSAGE(count >= 3, level);
    CHECK(files_ending(".exercise.toml").size() >= 12);
}

// Same cards and same welds as the model plan, joints tacked and cool, one turn: only the order is wrong.
TEST_CASE("rail_frame_one_turn: a wrong order is told by the diagonals") {
    const grading::Exercise exercise = grading::read_exercise(folder / "rail_frame_one_turn.exercise.toml");
    Bench bench;
    for (const char* order : {"two_corners_first", "faces_first"}) {
        CAPTURE(order);
        const auto mark =
            bench.mark_of(exercise, folder / ("rail_frame_one_turn." + std::string(order) + ".plan.toml"));
        REQUIRE(mark);
        CHECK(!mark->passed);
        CHECK(mark->why_not.english().find("difference of the diagonals") != std::string::npos);
        CHECK(mark->remarks.front().aspect == grading::Aspect::gauges);
        for (const grading::Remark& remark : mark->remarks)
            if (remark.aspect == grading::Aspect::settings || remark.aspect == grading::Aspect::order_and_heat)
                CHECK_MESSAGE(remark.points_lost < 0.1, remark.topic.english());
    }
}

// What the brief says of preheat: neither rule asks for it, a short arc on the lug is better for it, and it takes time.
TEST_CASE("pivot_bracket: preheat is not called for, and helps against cold lap") {
    const grading::Exercise exercise = grading::read_exercise(folder / "pivot_bracket.exercise.toml");
    Bench bench;
    const auto cold = bench.mark_of(exercise, folder / "pivot_bracket.model.plan.toml");
    const auto warm = bench.mark_of(exercise, folder / "pivot_bracket.model_warm.plan.toml");
    REQUIRE(cold);
    REQUIRE(warm);
    const auto told = [](const grading::Mark& mark, const std::string& rule) {
        return std::ranges::any_of(mark.remarks, [&](const grading::Remark& remark) {
            return remark.verdict != grading::Verdict::pass && remark.rule.starts_with(rule);
        });
    };
    CHECK(!told(*cold, "preheat."));
    CHECK(!told(*warm, "preheat."));
    CHECK(told(*cold, "transfer.short_circuit_thickness"));
    CHECK(!told(*warm, "transfer.short_circuit_thickness"));
    const auto settings = static_cast<std::size_t>(grading::Aspect::settings);
    const auto time = static_cast<std::size_t>(grading::Aspect::time_and_handling);
    CHECK(warm->reached[settings] > cold->reached[settings] + 1);
    // Time counts in the measure of the credit for settings.
    CHECK(warm->reached[time] / warm->reached[settings] < cold->reached[time] / cold->reached[settings]);
}

TEST_CASE("tee_coupon: model and wrong plans") { check_part("tee_coupon"); }
TEST_CASE("lap_strip: model and wrong plans") { check_part("lap_strip"); }
TEST_CASE("rail_frame: model and wrong plans") { check_part("rail_frame"); }
TEST_CASE("ribbed_deck: model and wrong plans") { check_part("ribbed_deck"); }
TEST_CASE("pivot_bracket: model and wrong plans") { check_part("pivot_bracket"); }
TEST_CASE("lift_arm: model and wrong plans") { check_part("lift_arm"); }
