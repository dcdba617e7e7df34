#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "grading/variant.h"
#include "text/input_error.h"
#include "weld/hand_made.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <numbers>
#include <set>

using namespace holdtrue;
using grading::Exercise;

namespace {

// An exercise of the test's own on the shipped tee; removed at the end.
class OwnExercise {
public:
    explicit OwnExercise(const std::string& more) {
        const std::filesystem::path source = HOLDTRUE_SOURCE_DIR;
        std::ofstream(file) << "name = \"own\"\ntitle = \"Own\"\nlevel = 1\nbrief = [\"Weld it.\"]\n"
                            << "part = \"" << (source / "assets/parts/tee_coupon.part.toml").string() << "\"\n"
                            << "shop = \"" << (source / "assets/shops/rookwood.shop.toml").string() << "\"\n"
                            << "[time]\ngood_min = 10\nslow_min = 30\nturns_good = 0\nturns_many = 4\n"
                            << more;
    }
    ~OwnExercise() { std::filesystem::remove(file); }
    std::string complaint() const {
        try {
            const Exercise exercise = grading::read_exercise(file);
            for (int variant = 1; variant <= exercise.variant_count; ++variant)
                grading::read_exercise(file, variant);
        } catch (const text::InputError& error) {
            return error.what();
        }
        return "";
    }
    const std::filesystem::path file =
        std::filesystem::temp_directory_path() / ("own" + std::to_string(::getpid()) + ".exercise.toml");
};

const std::string two_aspects = R"(
[[variant]]
aspect = "sheet"
[[variant.choice]]
title = "sheets as drawn"
[[variant.choice]]
title = "6 mm flange"
sheet = [{ panel = "flange", thickness_mm = 6 }]
[[variant.choice]]
title = "4 mm web"
sheet = [{ panel = "web", thickness_mm = 4 }]
limit = [{ gauge = "lean", tolerance_deg = 0.7 }]
time_factor = 1.5
[[variant]]
aspect = "shop"
[[variant.choice]]
title = "no mix_75"
without_gas = "mix_75"
interpass_max_c = 120
must_pass = ["interpass"]
[[variant.choice]]
title = "volts dial stuck"
volts_dial = { stuck = 6 }
brief = "The dial does not move."
)";

weld::PlanHeading by(const std::string& trainee) {
    weld::PlanHeading heading;
    heading.trainee = trainee;
    return heading;
}

} // namespace

TEST_CASE("a name draws the same variant always and everywhere, and names draw all of them about as often") {
    Exercise exercise;
    exercise.name = "tee";
    exercise.variant_count = 12;
    CHECK(grading::drawn_variant(exercise, "") == 0);
    CHECK(grading::drawn_variant(exercise, "  Ann   Smith ") == grading::drawn_variant(exercise, "ann smith"));
    std::map<int, int> count;
    int neighbours_alike = 0, before = 0;
    const int names = 6000;
    for (int k = 0; k < names; ++k) {
        const int drawn = grading::drawn_variant(exercise, "trainee " + std::to_string(k));
        ++count[drawn];
        neighbours_alike += drawn == before;
        before = drawn;
    }
    REQUIRE(count.size() == 12);
    CHECK(count.begin()->first == 1);
    CHECK(count.rbegin()->first == 12);
    // Chi-square with 11 degrees of freedom stays below 31.26 in 999 of 1000 draws (statistical tables).
    double chi_square = 0;
    for (const auto& [variant, times] : count)
        chi_square += (times - names / 12.0) * (times - names / 12.0) / (names / 12.0);
    CHECK(chi_square < 31.26);
    CHECK(neighbours_alike == doctest::Approx(names / 12.0).epsilon(0.2));
    Exercise other = exercise;
    other.name = "lap";
    int alike = 0;
    for (int k = 0; k < 600; ++k)
        alike +=
            grading::drawn_variant(exercise, std::to_string(k)) == grading::drawn_variant(other, std::to_string(k));
    CHECK(alike < 120); // another exercise is drawn anew
    exercise.variant_count = 0;
    CHECK(grading::drawn_variant(exercise, "Ann") == 0);
}

TEST_CASE("each number is one combination of choices, and changes what they say and nothing else") {
    const OwnExercise own(two_aspects);
    const Exercise as_written = grading::read_exercise(own.file);
    REQUIRE(as_written.variant_count == 6);
    std::set<std::vector<std::string>> seen;
    for (int number = 1; number <= 6; ++number) {
        CAPTURE(number);
        const Exercise exercise = grading::read_exercise(own.file, number);
        CHECK(exercise.variant == number);
        REQUIRE(exercise.variant_words.size() == 2);
        seen.insert(exercise.variant_words);
        const bool thick = exercise.variant_words[0] == "6 mm flange", thin = exercise.variant_words[0] == "4 mm web";
        const bool no_gas = exercise.variant_words[1] == "no mix_75";
        CHECK(exercise.part->panels[0].thickness_m == doctest::Approx(thick ? 0.006 : 0.005));
        CHECK(exercise.part->panels[1].thickness_m == doctest::Approx(thin ? 0.004 : 0.005));
        CHECK(exercise.part->passes.size() == as_written.part->passes.size());
        CHECK(exercise.part->gauges[0].tolerance ==
              doctest::Approx(thin ? 0.7 * std::numbers::pi / 180 : as_written.part->gauges[0].tolerance));
        CHECK(exercise.time.good_s == doctest::Approx(thin ? 900 : 600));
        CHECK(exercise.shop->gases.size() == (no_gas ? 2u : 3u));
        CHECK(exercise.heat.interpass_max_k == doctest::Approx(no_gas ? 393.15 : as_written.heat.interpass_max_k));
        CHECK(std::ranges::count(exercise.must_pass, grading::must_stay_cool) == (no_gas ? 1 : 0));
        CHECK(exercise.shop->sources[0].volts_low_v == doctest::Approx(no_gas ? 14 : 20.4));
        CHECK(exercise.shop->sources[0].volts_high_v == doctest::Approx(no_gas ? 30 : 20.4));
        CHECK((exercise.brief.back().english() == "The dial does not move.") == !no_gas);
        CHECK(grading::variant_text(exercise).english().find(exercise.variant_words[1]) != std::string::npos);
    }
    CHECK(seen.size() == 6);
}

TEST_CASE("a plan's own number goes before its name, and a foreign one is told") {
    const OwnExercise own(two_aspects);
    const Exercise as_written = grading::read_exercise(own.file);
    CHECK(grading::read_exercise_for(own.file, by("")).variant == 0);
    const int drawn = grading::drawn_variant(as_written, "Ann");
    CHECK(grading::read_exercise_for(own.file, by("Ann")).variant == drawn);
    CHECK(grading::read_exercise_for(own.file, by("Ann"), 0).variant == 0);
    weld::PlanHeading copied = by("Ann");
    CHECK(grading::foreign_variant(as_written, copied).empty());
    copied.variant = drawn == 2 ? 3 : 2;
    CHECK(grading::read_exercise_for(own.file, copied).variant == *copied.variant);
    CHECK(grading::foreign_variant(as_written, copied).english().find("draws " + std::to_string(drawn)) !=
          std::string::npos);
    copied.variant = 7;
    copied.variant_line = 3;
    copied.file = "copied.plan.toml";
    try {
        grading::read_exercise_for(own.file, copied);
        FAIL("not refused");
    } catch (const text::InputError& error) {
        CHECK(std::string(error.what()).find("copied.plan.toml:3: there is no variant 7") != std::string::npos);
    }
}

TEST_CASE("what is wrong with a variant is told by line, and combinations that leave nothing are refused") {
    const auto complaint = [](const std::string& more) { return OwnExercise(more).complaint(); };
    const std::string head = "[[variant]]\naspect = \"a\"\n[[variant.choice]]\ntitle = \"none\"\n[[variant.choice]]\n";
    CHECK(complaint(head + "title = \"x\"\n") == "");
    CHECK(complaint("[[variant]]\naspect = \"a\"\n[[variant.choice]]\ntitle = \"x\"\n").find("has 1 choices") !=
          std::string::npos);
    CHECK(complaint(head + "title = \"x\"\nwithout_gas = \"mix_57\"\n").find("did you mean \"mix_75\"") !=
          std::string::npos);
    CHECK(complaint(head + "title = \"x\"\nsheet = [{ panel = \"wep\", thickness_mm = 4 }]\n").find("wep") !=
          std::string::npos);
    CHECK(complaint(head + "title = \"x\"\nmust_pass = [\"interpas\"]\n").find("did you mean \"interpass\"") !=
          std::string::npos);
    CHECK(complaint(head + "title = \"x\"\nvolts_dial = { stuck = 60 }\n").find("mark 60") != std::string::npos);
    CHECK(complaint(head + "title = \"x\"\nvolts_dial = {}\n").find("is not said") != std::string::npos);
    CHECK(complaint(head + "title = \"x\"\ntime_factr = 2\n").find("unknown key time_factr") != std::string::npos);
    CHECK(complaint(head + "title = \"x\"\nwithout_gas = [\"mix_75\", \"mix_92\", \"co2\"]\n")
              .find("nothing of its kind would be left") != std::string::npos);
    // A 30 mm flange no longer meets the web where the weld is drawn.
    CHECK(complaint(head + "title = \"x\"\nsheet = [{ panel = \"web\", thickness_mm = 1 }, { panel = \"flange\", "
                           "thickness_mm = 0.5 }]\n")
              .find("with the sheets of variant 2") != std::string::npos);
    const std::string two_gases = "[[variant]]\naspect = \"a\"\n[[variant.choice]]\ntitle = \"p\"\nwithout_gas = "
                                  "[\"mix_75\", \"mix_92\"]\n[[variant.choice]]\ntitle = \"q\"\n"
                                  "[[variant]]\naspect = \"b\"\n[[variant.choice]]\ntitle = \"r\"\nwithout_gas = "
                                  "\"co2\"\n[[variant.choice]]\ntitle = \"s\"\n";
    CHECK(complaint(two_gases).find("variant 1: no gas is left") != std::string::npos);
    std::string many;
    for (int k = 0; k < 11; ++k)
        many += "[[variant]]\naspect = \"a" + std::to_string(k) +
                "\"\n[[variant.choice]]\ntitle = \"p\"\n[[variant.choice]]\ntitle = \"q\"\n";
    CHECK(complaint(many).find("1000 are the most") != std::string::npos);
}

TEST_CASE("only some joints, and no clamps") {
    const OwnExercise own("");
    const std::string text = [&] {
        std::ifstream in(own.file);
        return std::string(std::istreambuf_iterator<char>(in), {});
    }();
    std::ofstream(own.file) << "joints = \"left\"\nwithout_clamps = \"front\"\n" << text;
    const Exercise exercise = grading::read_exercise(own.file);
    CHECK(exercise.joint_required == std::vector<bool>{true, false});
    REQUIRE(exercise.part->clamps.size() == 1);
    CHECK(exercise.part->clamps[0].name == "back");
    std::ofstream(own.file) << "joints = \"lefd\"\nwithout_clamps = \"all\"\n" << text;
    CHECK(own.complaint().find("did you mean \"left\"") != std::string::npos);
}

TEST_CASE("hints come off the total, in their order, and never below nothing") {
    weld::Outcome outcome = test::outcome();
    Exercise exercise;
    exercise.part = outcome.part;
    exercise.shop = outcome.shop;
    exercise.rules = std::make_shared<const arc::RuleBook>();
    exercise.hints = {{"first", 3}, {"second", 5}, {"third", 200}};
    const double whole = grading::grade(exercise, outcome).total;
    for (const auto& [taken, cost] : {std::pair{1, 3.0}, {2, 8.0}, {3, whole}, {99, whole}}) {
        outcome.plan.hints = taken;
        const grading::Mark mark = grading::grade(exercise, outcome);
        CHECK(mark.total == doctest::Approx(whole - cost));
        CHECK(mark.hint_points == doctest::Approx(cost));
        const auto remark = std::ranges::find(mark.remarks, std::string("hints"),
                                              [](const auto& each) { return each.topic.english(); });
        REQUIRE(remark != mark.remarks.end());
        CHECK(remark->points_lost == doctest::Approx(cost));
        CHECK(remark->aspect == grading::Aspect::help);
    }
}
