#include "lesson/translated.h"

namespace holdtrue::lesson {
namespace {

// Calls `each` with every string that a reader sees, except the text; codes among them are their own translation.
void for_each_string(Lesson& lesson, const auto& each) {
    each(lesson.title);
    each(lesson.aim);
    each(lesson.figure.caption);
    for (std::string& source : lesson.sources)
        each(source);
    for (Question& question : lesson.questions) {
        each(question.ask);
        each(question.why);
        if (question.kind != QuestionKind::choice)
            continue;
        each(question.right);
        for (std::string& wrong : question.wrong)
            each(wrong);
    }
}

} // namespace

Lesson translated(Lesson lesson, const text::Translation& translation) {
    for_each_string(lesson, [&](std::string& english) { english = translation(english.c_str()); });
    if (const auto found = lesson.text_in.find(translation.language()); found != lesson.text_in.end())
        lesson.text = found->second;
    return lesson;
}

std::vector<std::string> strings_of(Lesson lesson) {
    std::vector<std::string> all;
    for_each_string(lesson, [&](const std::string& english) { all.push_back(english); });
    return all;
}

} // namespace holdtrue::lesson
