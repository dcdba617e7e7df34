#include "lesson/question.h"

#include <doctest/doctest.h>

#include <set>

using namespace holdtrue::lesson;

namespace {

Question feed_question() {
    Question question;
    question.kind = QuestionKind::number;
    question.id = "feed";
    question.ask = "{length} in {time}?";
    question.why = "{length}, ten times";
    question.model = find_model("feed_check");
    question.given = {{0.640, 0.520, 0.710}, {6.0}};
    return question;
}

Question colour_question() {
    Question question;
    question.ask = "Which?";
    question.right = "grey";
    question.wrong = {"red", "green", "blue"};
    return question;
}

} // namespace

TEST_CASE("a number is computed from what is given") {
    const Question question = feed_question();
    const Posed posed = pose_first(question);
    CHECK(posed.text == "640 mm in 6 s?");
    CHECK(posed.right_value == doctest::Approx(6.4)); // 64 cm in 6 s is 6.4 m/min: arithmetic
    CHECK(posed.right_words == "6.4 m/min");
    for (const char* right : {"6.4", " 6.4 ", "6,4", "6.4 m/min", "6.41", "6.4m/min"})
        CHECK(judge(posed, right) == Judgement::right);
    for (const char* wrong : {"64", "0", "-6.4", "6.7"})
        CHECK(judge(posed, wrong) == Judgement::wrong);
    for (const char* unclear : {"", "six", "6.4 in/min", "nan", "inf", "6.4 6.4"})
        CHECK(judge(posed, unclear) == Judgement::not_understood);
}

TEST_CASE("a share may be said as a number, a fraction or in per cent") {
    const Question question = feed_question();
    Posed posed = pose_first(question);
    posed.unit = "";
    posed.right_value = 0.04;
    for (const char* right : {"0.04", "0,04", "1/25", "1 / 25", "4 %", "4%"})
        CHECK_MESSAGE(judge(posed, right) == Judgement::right, right);
    for (const char* wrong : {"4", "25", "1/4", "40 %"})
        CHECK_MESSAGE(judge(posed, wrong) == Judgement::wrong, wrong);
    for (const char* unclear : {"1/0", "1/", "/25", "1/25/2", "4 %%", "1/25 %", "%"})
        CHECK_MESSAGE(judge(posed, unclear) == Judgement::not_understood, unclear);
}

TEST_CASE("the seed chooses among the values given, and the same seed poses the same question") {
    const Question question = feed_question();
    std::set<std::string> texts;
    for (std::uint64_t seed = 0; seed < 40; ++seed) {
        const Posed posed = pose(question, seed);
        texts.insert(posed.text);
        CHECK(pose(question, seed).text == posed.text);
        CHECK(posed.why == posed.text.substr(0, 6) + ", ten times"); // "640 mm": of the numbers drawn
        CHECK(judge(posed, number_text(posed.right_value)) == Judgement::right);
    }
    CHECK(texts.size() == 3);
}

TEST_CASE("choices are shuffled and the right one follows") {
    const Question question = colour_question();
    std::set<int> places;
    for (std::uint64_t seed = 0; seed < 60; ++seed) {
        const Posed posed = pose(question, seed);
        REQUIRE(posed.choices.size() == 4);
        CHECK(posed.choices[posed.right_choice] == "grey");
        places.insert(posed.right_choice);
        for (int k = 0; k < 4; ++k) {
            const char letter[] = {static_cast<char>('a' + k), 0}, capital[] = {static_cast<char>('A' + k), 0};
            CHECK((judge(posed, letter) == Judgement::right) == (k == posed.right_choice));
            CHECK(judge(posed, capital) == judge(posed, letter));
        }
        CHECK(judge(posed, "e") == Judgement::not_understood);
        CHECK(judge(posed, "grey") == Judgement::not_understood);
    }
    CHECK(places.size() == 4);
}
