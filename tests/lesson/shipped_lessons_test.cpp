// Every shipped lesson as an apprentice meets it.
#include "lesson/figure.h"
#include "lesson/question.h"
#include "lesson/translated.h"

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

TEST_CASE("a lesson is 300 to 700 words, and has its caution") {
    for (const Lesson& lesson : shipped()) {
        CAPTURE(lesson.name);
        std::istringstream words(all_text(lesson));
        std::string word;
        int count = 0;
        while (words >> word)
            ++count;
        CHECK(count >= 300);
        CHECK(count <= 700);
        const auto caution = std::ranges::find_if(lesson.text, &Block::caution);
        REQUIRE(caution != lesson.text.end());
        const std::string warns = plain_text(caution->text);
        CHECK(warns.starts_with("Caution."));
    }
}

// What a translation must keep of a block: its kind and place in lists and tables, and every figure in it.
std::vector<std::string> shape_of(const std::vector<Block>& blocks) {
    std::vector<std::string> shapes;
    for (const Block& block : blocks) {
        std::string shape = std::to_string(static_cast<int>(block.kind)) + " " + std::to_string(block.level) + " " +
                            std::to_string(block.number) + (block.bullet ? "*" : "") + (block.caution ? "!" : "");
        std::string words = plain_text(block.text);
        for (const auto& row : block.rows) {
            shape += " row of " + std::to_string(row.size());
            for (const Line& cell : row)
                words += " " + plain_text(cell);
        }
        std::multiset<std::string> figures;
        for (std::size_t at = 0; (at = words.find_first_of("0123456789", at)) != std::string::npos;) {
            const std::size_t end = std::min(words.find_first_not_of("0123456789.", at), words.size());
            std::string figure = words.substr(at, end - at);
            figure.erase(figure.find_last_not_of('.') + 1);
            figures.insert(figure);
            at = end;
        }
        for (const std::string& figure : figures)
            shape += " " + figure;
        shapes.push_back(shape);
    }
    return shapes;
}

TEST_CASE("every lesson has its text in Spanish too: the same blocks with the same figures") {
    for (const Lesson& lesson : shipped()) {
        CAPTURE(lesson.name);
        REQUIRE(lesson.text_in.contains("es"));
        CHECK(shape_of(lesson.text_in.at("es")) == shape_of(lesson.text));
        CHECK(all_text(lesson).size() > 1000);
    }
}

TEST_CASE("a lesson in another language has that text and its strings, without either it stays as it is") {
    const auto spanish = holdtrue::text::Translation::read(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets" /
                                                           "translations" / "es");
    const Lesson& english = find_lesson(shipped(), "order");
    const Lesson other = translated(english, spanish);
    CHECK(plain_text(other.text.front().text) == plain_text(english.text_in.at("es").front().text));
    CHECK(other.title != english.title);
    CHECK(other.questions.back().right != english.questions.back().right);
    CHECK(other.questions.back().right == spanish(english.questions.back().right.c_str()));
    CHECK(pose_first(other.questions.back()).right_choice == pose_first(english.questions.back()).right_choice);
    const Lesson same = translated(english, holdtrue::text::Translation());
    CHECK(strings_of(same) == strings_of(english));
    CHECK(plain_text(same.text.front().text) == plain_text(english.text.front().text));
}

TEST_CASE("a figure drawn by a question stands in its Spanish too") {
    const auto spanish = holdtrue::text::Translation::read(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets" /
                                                           "translations" / "es");
    for (const Lesson& english : shipped()) {
        const Lesson lesson = translated(english, spanish);
        for (std::size_t k = 0; k < lesson.questions.size(); ++k) {
            CAPTURE(lesson.name);
            CAPTURE(lesson.questions[k].id);
            const Posed here = pose(lesson.questions[k], 5), there = pose(english.questions[k], 5);
            CHECK(here.text.find('{') == std::string::npos);
            CHECK(here.right_value == there.right_value);
            CHECK(here.right_choice == there.right_choice);
            CHECK(std::set<std::string>(here.choices.begin(), here.choices.end()).size() == there.choices.size());
        }
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
