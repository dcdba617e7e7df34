// A lesson in another language: its own text in it where its author wrote one, and every other string through the
// translation, which knows those of the shipped lessons. What has no translation stays English.
#pragma once

#include "lesson/lesson.h"
#include "text/translate.h"

namespace holdtrue::lesson {

Lesson translated(Lesson lesson, const text::Translation& translation);
// The strings of a lesson that a translation is asked for.
std::vector<std::string> strings_of(Lesson lesson);

} // namespace holdtrue::lesson
