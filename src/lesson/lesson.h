// A lesson: text, one live figure and questions, from a folder with lesson.md and lesson.toml (lessons/README.md says
// how to write one), and the text in other languages in lesson.es.md and the like. Plain values, never changed once
// read.
#pragma once

#include "lesson/markdown.h"
#include "lesson/model.h"

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace holdtrue::lesson {

// A slider moves one input of the figure's model.
struct Slider {
    int input = 0;
    double low = 0, high = 0, start = 0; // SI
};

// One output of a model drawn over one of its inputs, with sliders for others.
struct Figure {
    const Model* model = nullptr;
    std::string caption;
    int axis = 0; // input along the axis
    double axis_low = 0, axis_high = 0;
    int shown = 0;              // output that is drawn; the others are told as values
    std::vector<double> inputs; // one per input of the model; sliders start from here
    std::vector<Slider> sliders;
};

enum class QuestionKind {
    choice, // one right answer among wrong ones, all written by the author
    number, // a figure that a model computes
    word,   // a code or word that a model computes, among choices
};

struct Question {
    std::string id; // unique within the lesson; the record knows it as "lesson/id"
    QuestionKind kind = QuestionKind::choice;
    std::string ask; // number, word: {key} stands for a given value with its unit
    std::string why; // told after the answer, likewise
    std::string right;
    std::vector<std::string> wrong;   // choice
    std::vector<std::string> choices; // word: all that are offered
    const Model* model = nullptr;
    int find = 0;                           // number: output asked for
    int unit = 0;                           // number: unit of the answer within the output's dimension
    double within = 0.02;                   // number: relative error that still counts as right
    std::vector<std::vector<double>> given; // per input of the model: the values it may take, SI, at least one
    int line = 0;
};

struct Lesson {
    std::string name; // of the folder without its number: "eyes_and_skin"
    int number = 0;   // order in the list
    std::filesystem::path folder;
    std::string title, aim;
    int level = 1;          // 1 to 3
    bool dangerous = false; // about work that can hurt: its text has a caution
    std::vector<Block> text;
    std::map<std::string, std::vector<Block>> text_in; // by language: "es"
    Figure figure;
    std::vector<Question> questions;
    std::vector<std::string> sources;
};

// Throws InputError with every mistake found in either file.
Lesson read_lesson(const std::filesystem::path& folder);
// All lessons below a folder, by number. Throws InputError.
std::vector<Lesson> read_lessons(const std::filesystem::path& lessons);
// By name, by the name of its folder or by its number. Throws InputError, told for `file`, when there is none.
const Lesson& find_lesson(const std::vector<Lesson>& lessons, const std::string& name, const std::string& file = "");

} // namespace holdtrue::lesson
