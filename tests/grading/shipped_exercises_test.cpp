// Every shipped exercise with every plan that ships beside it: the model plan passes with a good mark, each other
// plan scores clearly less and is told why.
#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <map>

using namespace holdtrue;

namespace {

std::vector<std::filesystem::path> files_ending(const std::string& ending, const std::string& beginning = "") {
    std::vector<std::filesystem::path> files;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons/exercises")) {
        const std::string name = entry.path().filename().string();
        if (name.starts_with(beginning) && name.ends_with(ending))
            files.push_back(entry.path());
    }
    std::ranges::sort(files);
    return files;
}

// Coarse cells: what separates plans must not hang on a fine mesh.
grading::Mark mark_of(const grading::Exercise& exercise, const std::filesystem::path& plan_file) {
    const weld::Plan plan = weld::read_plan(plan_file, *exercise.part, *exercise.shop);
    const auto outcome = weld::simulate(exercise.part, exercise.shop, plan, {.element_scale = 1.6});
    return grading::grade(exercise, *outcome);
}

void check_exercise(const std::string& name) {
    const std::filesystem::path file =
        std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons/exercises" / (name + ".exercise.toml");
    const grading::Exercise exercise = grading::read_exercise(file);
    const grading::Mark model = mark_of(exercise, files_ending(name + ".model.plan.toml").front());
    INFO(name << " model " << model.total << " " << model.why_not);
    CHECK(model.passed);
    CHECK(model.total >= 80);
    const auto plans = files_ending(".plan.toml", name + ".");
    CHECK(plans.size() >= 3); // a model and two wrong ones
    for (const std::filesystem::path& plan : plans) {
        if (plan.filename().string().find(".model.") != std::string::npos)
            continue;
        const grading::Mark mark = mark_of(exercise, plan);
        INFO(plan.filename().string() << " " << mark.total << " " << mark.why_not);
        CHECK(mark.total < model.total - 4);
        // Its gravest remark says what, how much, against what, and one thing to try.
        const grading::Remark& gravest = mark.remarks.front();
        CHECK(gravest.verdict == grading::Verdict::fail);
        CHECK(!gravest.chosen.empty());
        CHECK(!gravest.measured.empty());
        CHECK(!gravest.limit.empty());
        CHECK(!gravest.source.empty());
        CHECK(!gravest.try_this.empty());
    }
}

} // namespace

TEST_CASE("every exercise has a case below") {
    std::vector<std::string> names;
    for (const auto& file : files_ending(".exercise.toml"))
        names.push_back(file.filename().string());
    CHECK(names == std::vector<std::string>{"lap_strip.exercise.toml", "lift_arm.exercise.toml",
                                            "pivot_bracket.exercise.toml", "rail_frame.exercise.toml",
                                            "ribbed_deck.exercise.toml", "tee_coupon.exercise.toml"});
}

TEST_CASE("tee_coupon: model and wrong plans") { check_exercise("tee_coupon"); }
TEST_CASE("lap_strip: model and wrong plans") { check_exercise("lap_strip"); }
TEST_CASE("rail_frame: model and wrong plans") { check_exercise("rail_frame"); }
TEST_CASE("ribbed_deck: model and wrong plans") { check_exercise("ribbed_deck"); }
TEST_CASE("pivot_bracket: model and wrong plans") { check_exercise("pivot_bracket"); }
TEST_CASE("lift_arm: model and wrong plans") { check_exercise("lift_arm"); }
