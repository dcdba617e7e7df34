// Every shipped lesson as an apprentice meets it.
#include "lesson/figure.h"
#include "lesson/question.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

using namespace holdtrue::lesson;

namespace {

const std::vector<Lesson>& shipped() {
    static const std::vector<Lesson> all = read_lessons(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons");
    return all;
}

std::string all_text(const Lesson& lesson) {
    std::string text;
    for (const Block& block : lesson.text)
        text += plain_text(block.text) + "\n";
    return text;
}

} // namespace

TEST_CASE("the lessons load, in order, each with aim, sources and enough questions") {
    std::set<int> numbers;
    for (const Lesson& lesson : shipped()) {
        CAPTURE(lesson.name);
        CHECK(numbers.insert(lesson.number).second);
        CHECK(lesson.aim.size() > 40);
        CHECK(lesson.sources.size() >= 2);
        CHECK(lesson.questions.size() >= 4);
        CHECK(lesson.questions.size() <= 10);
        CHECK(std::ranges::count_if(lesson.questions,
                                    [](const Question& q) { return q.kind != QuestionKind::choice; }) >= 1);
    }
}

TEST_CASE("a lesson is 300 to 700 words, and cautions stand where work can hurt") {
    for (const Lesson& lesson : shipped()) {
        CAPTURE(lesson.name);
        std::istringstream words(all_text(lesson));
        std::string word;
        int count = 0;
        while (words >> word)
            ++count;
        CHECK(count >= 300);
        CHECK(count <= 700);
        if (lesson.dangerous)
            CHECK(std::ranges::any_of(lesson.text, [](const Block& block) {
                return block.caution && plain_text(block.text).starts_with("Caution.");
            }));
    }
}

TEST_CASE("live figures are finite and move over the whole range of their sliders") {
    for (const Lesson& lesson : shipped()) {
        CAPTURE(lesson.name);
        const Figure& figure = lesson.figure;
        for (unsigned corner = 0; corner < (1u << figure.sliders.size()); ++corner) {
            std::vector<double> inputs = figure.inputs;
            for (std::size_t k = 0; k < figure.sliders.size(); ++k)
                inputs[figure.sliders[k].input] = corner >> k & 1 ? figure.sliders[k].high : figure.sliders[k].low;
            const Curve curve = evaluate(figure, inputs);
            CHECK(std::ranges::all_of(curve.y, [](double y) { return std::isfinite(y); }));
            CHECK(std::ranges::all_of(curve.outputs_now, [](double y) { return std::isfinite(y); }));
        }
        const Curve start = evaluate(figure, figure.inputs);
        CHECK(std::ranges::max(start.y) > std::ranges::min(start.y)); // a flat line shows nothing
        // Each slider changes something that is shown.
        for (const Slider& slider : figure.sliders) {
            std::vector<double> low = figure.inputs, high = figure.inputs;
            low[slider.input] = slider.low;
            high[slider.input] = slider.high;
            CHECK(evaluate(figure, low).outputs_now != evaluate(figure, high).outputs_now);
        }
    }
}

TEST_CASE("computed answers are the stated ones, and a right answer is judged right whatever the seed") {
    int computed = 0;
    for (const Lesson& lesson : shipped())
        for (const Question& question : lesson.questions) {
            CAPTURE(lesson.name);
            CAPTURE(question.id);
            computed += question.kind != QuestionKind::choice;
            for (std::uint64_t seed = 0; seed < 12; ++seed) {
                const Posed posed = pose(question, seed);
                CHECK(posed.text.find('{') == std::string::npos);
                CHECK(!posed.right_words.empty());
                if (posed.choices.empty()) {
                    CHECK(judge(posed, number_text(posed.right_value)) == Judgement::right);
                    CHECK(judge(posed, number_text(posed.right_value * 1.6 + 1)) == Judgement::wrong);
                } else {
                    const std::set<std::string> distinct(posed.choices.begin(), posed.choices.end());
                    CHECK(distinct.size() == posed.choices.size());
                    const std::string letter(1, static_cast<char>('a' + posed.right_choice));
                    CHECK(judge(posed, letter) == Judgement::right);
                }
            }
        }
    CHECK(computed >= static_cast<int>(2 * shipped().size()));
}

TEST_CASE("lengths of choices do not give the right one away") {
    int longest_is_right = 0, choices = 0;
    for (const Lesson& lesson : shipped())
        for (const Question& question : lesson.questions)
            if (question.kind == QuestionKind::choice) {
                ++choices;
                longest_is_right += std::ranges::all_of(
                    question.wrong, [&](const std::string& wrong) { return wrong.size() < question.right.size(); });
            }
    CHECK(longest_is_right <= 0.6 * choices);
}
