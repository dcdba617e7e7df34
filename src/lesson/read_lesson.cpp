#include "lesson/lesson.h"
#include "lesson/question.h"
#include "text/toml_reader.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <fstream>
#include <functional>
#include <set>
#include <sstream>

namespace holdtrue::lesson {
namespace {

namespace fs = std::filesystem;
using text::Table;
using text::worded;

std::vector<double> read_values(Table& table, std::string_view key, const units::Dimension& dimension,
                                text::Range range) {
    return &dimension == &plain ? table.numbers(key, range) : table.quantities(key, dimension, range);
}

double read_value(Table& table, std::string_view key, const units::Dimension& dimension, text::Range range,
                  std::optional<double> fallback = {}) {
    return &dimension == &plain ? table.number(key, range, fallback) : table.quantity(key, dimension, range, fallback);
}

bool has_value(const Table& table, std::string_view key, const units::Dimension& dimension) {
    return table.has(key) || (&dimension != &plain && table.has_quantity(key, dimension));
}

std::vector<std::string> keys_of(const auto& inputs_or_outputs) {
    std::vector<std::string> keys;
    for (const auto& one : inputs_or_outputs)
        keys.emplace_back(one.key);
    return keys;
}

text::Sentence fix_for(std::string_view wrong, const std::vector<std::string>& known) {
    return text::did_you_mean(wrong, known, {worded("it can be {0}"), {text::one_of(known)}});
}

// The model that a table's key names; null if there is none. What the other keys may be hangs on it, so they are taken
// as they are then.
const Model* read_model(Table& table) {
    const std::string name = table.text("model");
    if (const Model* model = find_model(name))
        return model;
    std::vector<std::string> known;
    for (const Model& one : models())
        known.emplace_back(one.name);
    if (!name.empty())
        table.problem("model", {worded("model \"{0}\" is not known"), {name}},
                      text::did_you_mean(name, known, worded("'holdtrue lesson --models' in a terminal lists them")));
    for (const std::string& key : table.keys())
        table.know({key});
    return nullptr;
}

int read_input(Table& table, const Model& model) {
    const std::string key = table.text("input");
    const int input = model.input(key);
    if (input < 0)
        table.problem("input", {worded("model {0} has no input \"{1}\""), {std::string(model.name), key}},
                      fix_for(key, keys_of(model.inputs)));
    return std::max(0, input);
}

int read_output(Table& table, std::string_view key, const Model& model) {
    const std::string name = table.text(key);
    const int output = model.output(name);
    if (output < 0)
        table.problem(key, {worded("model {0} has no output \"{1}\""), {std::string(model.name), name}},
                      fix_for(name, keys_of(model.outputs)));
    return std::max(0, output);
}

text::Range range_of(const Input& input) { return {input.low, input.high}; }

void check_order(Table& table, double low, double high) {
    if (!(low < high))
        table.problem("low", worded("low is not below high"), worded("give the smaller value as low"));
}

Figure read_figure(Table table) {
    Figure figure;
    figure.model = read_model(table);
    figure.caption = table.text("caption");
    if (!figure.model)
        return figure;
    const Model& model = *figure.model;
    if (!model.evaluate) {
        table.problem("model", {worded("model {0} answers with a word and cannot be drawn"), {std::string(model.name)}},
                      worded("choose a model with number outputs"));
        return figure;
    }
    figure.shown = read_output(table, "show", model);
    figure.inputs = model.usual();
    if (auto set = table.table("set"))
        for (std::size_t i = 0; i < model.inputs.size(); ++i)
            if (const Input& input = model.inputs[i]; has_value(*set, input.key, *input.dimension))
                figure.inputs[i] = read_value(*set, input.key, *input.dimension, range_of(input));
    if (auto axis = table.table("axis")) {
        figure.axis = read_input(*axis, model);
        const Input& input = model.inputs[figure.axis];
        figure.axis_low = read_value(*axis, "low", *input.dimension, range_of(input));
        figure.axis_high = read_value(*axis, "high", *input.dimension, range_of(input));
        check_order(*axis, figure.axis_low, figure.axis_high);
    } else
        table.problem("", worded("the figure has no axis"), worded("add [figure.axis] with input, low and high"));
    for (Table one : table.tables("slider")) {
        Slider slider;
        slider.input = read_input(one, model);
        const Input& input = model.inputs[slider.input];
        slider.low = read_value(one, "low", *input.dimension, range_of(input));
        slider.high = read_value(one, "high", *input.dimension, range_of(input));
        slider.start = read_value(one, "start", *input.dimension, {slider.low, slider.high});
        check_order(one, slider.low, slider.high);
        if (slider.input == figure.axis)
            one.problem("input", worded("the slider moves the input of the axis"), worded("let it move another input"));
        figure.inputs[slider.input] = slider.start;
        figure.sliders.push_back(slider);
    }
    if (figure.sliders.empty())
        table.problem("", worded("the figure has no slider"),
                      worded("add [[figure.slider]] with input, low, high and start"));
    return figure;
}

// Every {key} of a question is an input of its model, and every input that varies is told.
void check_marks(Table& table, const Question& question) {
    for (const auto& [told_in, words] : {std::pair("ask", &question.ask), {"why", &question.why}})
        for (std::size_t at = words->find('{'); at != std::string::npos; at = words->find('{', at + 1)) {
            const std::string key = words->substr(at + 1, words->find('}', at) - at - 1);
            if (question.model->input(key) < 0)
                table.problem(told_in,
                              {worded("{{0}} is not an input of model {1}"), {key, std::string(question.model->name)}},
                              fix_for(key, keys_of(question.model->inputs)));
        }
    for (std::size_t i = 0; i < question.given.size(); ++i) {
        const std::string key(question.model->inputs[i].key);
        if (question.given[i].size() > 1 && question.ask.find('{' + key + '}') == std::string::npos)
            table.problem("ask", {worded("{0} varies but the question does not tell it"), {key}},
                          {worded("write {{0}} in ask"), {key}});
    }
}

void read_given(Table& table, Question& question) {
    for (const double value : question.model->usual())
        question.given.push_back({value});
    if (auto given = table.table("given"))
        for (std::size_t i = 0; i < question.given.size(); ++i)
            if (const Input& input = question.model->inputs[i]; has_value(*given, input.key, *input.dimension))
                if (const std::vector<double> values =
                        read_values(*given, input.key, *input.dimension, range_of(input));
                    !values.empty())
                    question.given[i] = values;
    check_marks(table, question);
}

// Calls `each` with every combination of the values given.
void for_all_given(const Question& question, const std::function<void(const std::vector<double>&)>& each) {
    std::vector<std::size_t> at(question.given.size(), 0);
    for (;;) {
        std::vector<double> values;
        for (std::size_t i = 0; i < at.size(); ++i)
            values.push_back(question.given[i][at[i]]);
        each(values);
        std::size_t digit = 0;
        while (digit < at.size() && ++at[digit] == question.given[digit].size())
            at[digit++] = 0;
        if (digit == at.size())
            return;
    }
}

void read_number(Table& table, Question& question) {
    question.kind = QuestionKind::number;
    question.find = read_output(table, "find", *question.model);
    const Output& output = question.model->outputs[question.find];
    question.within = table.number("within_percent", {0.01, 30}, 2.0) / 100;
    read_given(table, question);
    // The unit of the stated answer is the unit that is asked for.
    const double stated = read_value(table, "stated", *output.dimension, {});
    question.unit = output.unit;
    for (std::size_t k = 0; k < output.dimension->units.size(); ++k)
        if (table.has("stated_" + std::string(output.dimension->units[k].suffix)))
            question.unit = static_cast<int>(k);
    const Posed first = pose_first(question);
    const units::Unit& unit = output.dimension->units[question.unit];
    // An author writes three figures; where much is allowed, a model may also be refined without ado.
    const double rounding = std::max(0.01, question.within / 4);
    if (std::abs(unit.from_si(stated) - first.right_value) > rounding * std::abs(first.right_value) + 1e-9)
        table.problem(
            "stated",
            {worded("stated is {0} but the model gives {1}"), {number_text(unit.from_si(stated)), first.right_words}},
            worded("correct it, or what is given"));
    for_all_given(question, [&](const std::vector<double>& values) {
        if (!std::isfinite(question.model->evaluate(values)[question.find]))
            table.problem("given", worded("some of the given values have no answer"), worded("leave them out"));
    });
}

void read_word(Table& table, Question& question) {
    question.kind = QuestionKind::word;
    question.choices = table.texts("choices");
    const std::string stated = table.text("stated");
    read_given(table, question);
    std::vector<double> first;
    for (const auto& values : question.given)
        first.push_back(values.front());
    if (const std::string found = question.model->word(first); found != stated)
        table.problem("stated", {worded("stated is \"{0}\" but the model gives \"{1}\""), {stated, found}},
                      worded("correct it, or what is given"));
    for_all_given(question, [&](const std::vector<double>& values) {
        const std::string found = question.model->word(values);
        if (std::ranges::find(question.choices, found) == question.choices.end())
            table.problem("choices", {worded("the right answer \"{0}\" is not among the choices"), {found}},
                          worded("add it"));
    });
}

Question read_question(Table table) {
    Question question;
    question.line = table.line();
    question.id = table.text("id");
    question.ask = table.text("ask");
    question.why = table.text("why");
    if (table.has("right")) {
        question.right = table.text("right");
        question.wrong = table.texts("wrong");
        if (question.wrong.empty() || question.wrong.size() > 7)
            table.problem("wrong", {worded("wrong has {0} answers"), {std::to_string(question.wrong.size())}},
                          worded("give 1 to 7 wrong answers"));
        if (std::ranges::find(question.wrong, question.right) != question.wrong.end())
            table.problem("wrong", worded("the right answer is among the wrong ones"), worded("remove it"));
        return question;
    }
    if (!table.has("model")) {
        table.problem("", worded("the question has no answer"),
                      worded("give right and wrong, or a model with find (or choices) and stated"));
        return question;
    }
    question.model = read_model(table);
    if (!question.model)
        return question;
    if (question.model->word && !table.has("find"))
        read_word(table, question);
    else if (question.model->evaluate)
        read_number(table, question);
    else
        table.problem("find", {worded("model {0} answers with a word"), {std::string(question.model->name)}},
                      worded("give choices and stated instead of find"));
    return question;
}

void read_folder_name(const fs::path& folder, Lesson& lesson) {
    const std::string name = folder.filename().string();
    const std::size_t bar = name.find('_');
    const bool good = bar != std::string::npos && bar > 0 && bar <= 3 && bar + 1 < name.size() &&
                      std::all_of(name.begin(), name.begin() + bar, [](unsigned char c) { return std::isdigit(c); });
    if (!good)
        throw text::InputError(folder.string(), 0, worded("the folder is not named as a lesson"),
                               worded("call it NN_name, for example 03_fire_watch"));
    lesson.number = std::stoi(name.substr(0, bar));
    lesson.name = name.substr(bar + 1);
}

std::string content_of(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in)
        throw text::InputError(path.string(), 0, worded("cannot be read"),
                               worded("a lesson has lesson.md and lesson.toml"));
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

// "es" of lesson.es.md; empty for other files.
std::string language_of_text(const fs::path& file) {
    const std::string name = file.filename().string();
    constexpr std::string_view before = "lesson.", after = ".md";
    if (name.size() <= before.size() + after.size() || !name.starts_with(before) || !name.ends_with(after))
        return {};
    return name.substr(before.size(), name.size() - before.size() - after.size());
}

} // namespace

Lesson read_lesson(const fs::path& folder) {
    Lesson lesson;
    lesson.folder = folder;
    read_folder_name(folder, lesson);
    text::Document document = text::Document::read(folder / "lesson.toml");
    Table root = document.root();
    lesson.title = root.text("title");
    lesson.aim = root.text("aim");
    lesson.level = root.integer("level", 1, 3);
    lesson.dangerous = root.flag("dangerous");
    lesson.sources = root.texts("sources");
    if (lesson.sources.empty())
        root.problem("sources", worded("the lesson names no source"), worded("name where its facts come from"));
    if (auto figure = root.table("figure"))
        lesson.figure = read_figure(*figure);
    else
        root.problem("", worded("the lesson has no live figure"), worded("add [figure]"));
    std::set<std::string> ids;
    for (Table table : root.tables("question")) {
        lesson.questions.push_back(read_question(table));
        if (!ids.insert(lesson.questions.back().id).second)
            table.problem("id", {worded("id \"{0}\" is used twice"), {lesson.questions.back().id}},
                          worded("give each its own"));
    }
    if (lesson.questions.size() < 4)
        root.problem("", {worded("the lesson has {0} questions"), {std::to_string(lesson.questions.size())}},
                     worded("write at least 4"));
    lesson.text = parse_markdown(content_of(folder / "lesson.md"));
    if (lesson.dangerous && std::ranges::none_of(lesson.text, &Block::caution))
        root.problem("dangerous", worded("the lesson is about dangerous work but its text has no caution"),
                     worded("add one to lesson.md in lines that begin with >"));
    for (const auto& entry : fs::directory_iterator(folder))
        if (const std::string language = language_of_text(entry.path()); !language.empty())
            lesson.text_in[language] = parse_markdown(content_of(entry.path()));
    document.finish();
    return lesson;
}

std::vector<Lesson> read_lessons(const fs::path& lessons) {
    std::vector<fs::path> folders;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(lessons, error))
        if (entry.is_directory() && fs::exists(entry.path() / "lesson.toml"))
            folders.push_back(entry.path());
    std::ranges::sort(folders);
    std::vector<Lesson> all;
    std::vector<text::Problem> problems;
    for (const fs::path& folder : folders)
        try {
            all.push_back(read_lesson(folder));
        } catch (const text::InputError& mistakes) {
            problems.insert(problems.end(), mistakes.problems().begin(), mistakes.problems().end());
        }
    if (!problems.empty())
        throw text::InputError(problems);
    if (all.empty())
        throw text::InputError(lessons.string(), 0, worded("no lessons are found here"),
                               worded("name a folder that holds NN_name/lesson.toml"));
    std::ranges::sort(all, {}, [](const Lesson& lesson) { return std::pair(lesson.number, lesson.name); });
    return all;
}

const Lesson& find_lesson(const std::vector<Lesson>& lessons, const std::string& name, const std::string& file) {
    std::vector<std::string> names;
    for (const Lesson& one : lessons) {
        if (name == one.name || name == one.folder.filename().string() || name == std::to_string(one.number))
            return one;
        names.push_back(one.name);
    }
    throw text::InputError(
        file, 0, {worded("there is no lesson \"{0}\""), {name}},
        text::did_you_mean(name, names, worded("'holdtrue lesson --list' in a terminal lists them")));
}

} // namespace holdtrue::lesson
