// Marks a class beside everything else: a folder of plans and hand-ins against one exercise (record/class_marking.h),
// on a thread of its own. Its results are given out as they come.
#pragma once

#include "record/class_marking.h"
#include "text/input_error.h"

#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace holdtrue::app {

// What is to be marked: the exercise as it was handed out, and the folder of what came back.
struct ClassChoice {
    std::filesystem::path exercise, folder;
};

// A class as far as it is marked.
struct MarkedClass {
    std::shared_ptr<const grading::Exercise> exercise; // as written
    std::filesystem::path folder;
    record::ClassMarks marks;
    bool finished = false;               // all of it, not cancelled
    std::vector<text::Problem> problems; // why there are no marks at all
};

class ClassStudy {
public:
    // `wake` is called on the study's threads when there is news.
    explicit ClassStudy(std::function<void()> wake) : wake_(std::move(wake)) {}
    ~ClassStudy();

    // Not while one is busy.
    void start(std::shared_ptr<const grading::Exercise> exercise, std::filesystem::path folder);
    void cancel(); // ends soon, and is busy until then
    bool busy() const { return busy_; }
    // What is new since the last time, put into `marked`; whether anything was.
    bool take(MarkedClass& marked);

private:
    struct News {
        std::size_t entry = 0;
        record::ClassEntry found;
    };
    void run(const grading::Exercise& exercise, const std::filesystem::path& folder, std::stop_token stop);

    std::function<void()> wake_;
    std::atomic<bool> busy_{false};
    std::mutex mutex_;
    std::vector<News> news_;                // under mutex_
    std::optional<record::ClassMarks> all_; // under mutex_
    std::vector<text::Problem> problems_;   // under mutex_
    std::jthread thread_;
};

} // namespace holdtrue::app
