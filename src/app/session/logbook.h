// The trainee's own history as the window shows it: opened with the first look at it or the first mark, read anew
// after every change. Throws InputError where the record cannot be read or written; the session shows that.
#pragma once

#include "grading/mark.h"
#include "record/progress.h"
#include "record/record.h"
#include "record/take_hint.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace holdtrue::app {

class Logbook {
public:
    explicit Logbook(std::filesystem::path file) : file_(std::move(file)) {}

    void open(); // does nothing when it is open
    bool is_open() const { return record_ != nullptr; }

    const std::vector<record::Trainee>& trainees() const { return trainees_; }
    const std::optional<record::Trainee>& current() const { return current_; }
    const std::vector<record::Attempt>& attempts() const { return attempts_; }          // of the current, latest first
    const std::vector<record::ExerciseProgress>& progress() const { return progress_; } // of the current
    const std::vector<record::QuestionProgress>& questions() const { return questions_; } // of the current

    void add_trainee(const std::string& name); // and makes it the current one
    void choose_trainee(std::int64_t id);
    void open_if_kept(); // where there is a record already; none is made
    // record/take_hint.h for the current trainee, or by the plan alone when there is none or the plan is not theirs.
    int hints_that_count(const grading::Exercise& exercise, int in_plan, bool own_plan) const;
    record::TakenHint take_hint(const grading::Exercise& exercise, int& in_plan, bool own_plan);
    // Without a current trainee these do nothing.
    void add_attempt(record::Attempt attempt);
    void add_answer(record::GivenAnswer answer);

private:
    void refresh();

    std::filesystem::path file_;
    std::unique_ptr<record::Record> record_;
    std::vector<record::Trainee> trainees_;
    std::optional<record::Trainee> current_;
    std::vector<record::Attempt> attempts_;
    std::vector<record::ExerciseProgress> progress_;
    std::vector<record::QuestionProgress> questions_;
};

} // namespace holdtrue::app
