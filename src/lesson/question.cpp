#include "lesson/question.h"

#include "text/verify.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace holdtrue::lesson {
namespace {

// SplitMix64 (Steele, Lea and Flood 2014): the same numbers on every machine, which std::shuffle does not promise.
class Draw {
public:
    explicit Draw(std::uint64_t seed) : state_(seed) {}
    std::size_t below(std::size_t count) {
        state_ += 0x9e3779b97f4a7c15;
        std::uint64_t z = state_;
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9;
        z = (z ^ (z >> 27)) * 0x94d049bb133111eb;
        z ^= z >> 31;
        return static_cast<std::size_t>(z % count);
    }

private:
    std::uint64_t state_;
};

std::string filled_in(std::string text, const Model& model, const std::vector<double>& values) {
    for (std::size_t i = 0; i < model.inputs.size(); ++i) {
        const Input& input = model.inputs[i];
        const std::string mark = '{' + std::string(input.key) + '}';
        for (std::size_t at = text.find(mark); at != std::string::npos; at = text.find(mark, at))
            text.replace(at, mark.size(), with_unit(values[i], *input.dimension, input.unit));
    }
    return text;
}

// `values`: one per input of the question's model.
Posed posed_with(const Question& question, const std::vector<double>& values) {
    Posed posed;
    posed.question = &question;
    posed.text = question.model ? filled_in(question.ask, *question.model, values) : question.ask;
    posed.why = question.model ? filled_in(question.why, *question.model, values) : question.why;
    switch (question.kind) {
    case QuestionKind::choice:
        posed.choices = question.wrong;
        posed.choices.insert(posed.choices.begin(), question.right);
        posed.right_words = question.right;
        break;
    case QuestionKind::word:
        posed.choices = question.choices;
        posed.right_words = question.model->word(values);
        break;
    case QuestionKind::number: {
        const Output& output = question.model->outputs[question.find];
        const units::Unit& unit = output.dimension->units[question.unit];
        const double right = question.model->evaluate(values)[question.find];
        posed.right_value = unit.from_si(right);
        posed.unit = unit.label;
        posed.right_words = with_unit(right, *output.dimension, question.unit);
        break;
    }
    }
    return posed;
}

void find_right_choice(Posed& posed) {
    if (posed.choices.empty())
        return;
    const auto at = std::ranges::find(posed.choices, posed.right_words);
    VERIFY(at != posed.choices.end(), "the reader checks that the right answer is offered");
    posed.right_choice = static_cast<int>(at - posed.choices.begin());
}

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    return first == std::string_view::npos ? "" : text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

} // namespace

Posed pose(const Question& question, std::uint64_t seed) {
    Draw draw(seed);
    std::vector<double> values;
    for (const std::vector<double>& allowed : question.given)
        values.push_back(allowed[draw.below(allowed.size())]);
    Posed posed = posed_with(question, values);
    for (std::size_t k = posed.choices.size(); k > 1; --k)
        std::swap(posed.choices[k - 1], posed.choices[draw.below(k)]);
    find_right_choice(posed);
    return posed;
}

Posed pose_first(const Question& question) {
    std::vector<double> values;
    for (const std::vector<double>& allowed : question.given)
        values.push_back(allowed.front());
    Posed posed = posed_with(question, values);
    find_right_choice(posed);
    return posed;
}

int chosen(const Posed& posed, std::string_view answer) {
    answer = trimmed(answer);
    if (answer.size() != 1)
        return -1;
    const int choice = (answer[0] | 0x20) - 'a'; // ASCII lower case
    return choice >= 0 && choice < static_cast<int>(posed.choices.size()) ? choice : -1;
}

Judgement judge(const Posed& posed, std::string_view answer) {
    if (!posed.choices.empty()) {
        const int choice = chosen(posed, answer);
        return choice < 0                     ? Judgement::not_understood
               : choice == posed.right_choice ? Judgement::right
                                              : Judgement::wrong;
    }
    answer = trimmed(answer);
    std::string number(answer);
    std::ranges::replace(number, ',', '.');
    double value = 0;
    const char* const last = number.data() + number.size();
    const auto [end, error] = std::from_chars(number.data(), last, value);
    std::string_view rest = trimmed(std::string_view(end, last));
    if (posed.unit.empty() && rest == "%") { // a share is said in several ways
        value /= 100;
        rest = {};
    } else if (double divisor = 0; posed.unit.empty() && rest.starts_with('/')) {
        rest = trimmed(rest.substr(1));
        const auto [after, wrong] = std::from_chars(rest.data(), last, divisor);
        if (wrong != std::errc() || divisor == 0)
            return Judgement::not_understood;
        value /= divisor;
        rest = trimmed(std::string_view(after, last));
    }
    if (error != std::errc() || !std::isfinite(value) || (!rest.empty() && rest != posed.unit))
        return Judgement::not_understood;
    const double allowed = posed.question->within * std::abs(posed.right_value) + 1e-9;
    return std::abs(value - posed.right_value) <= allowed ? Judgement::right : Judgement::wrong;
}

} // namespace holdtrue::lesson
