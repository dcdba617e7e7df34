#include "app/session/class_study.h"

#include "text/failure.h"

#include <exception>
#include <utility>

namespace holdtrue::app {

ClassStudy::~ClassStudy() { cancel(); }

void ClassStudy::start(std::shared_ptr<const grading::Exercise> exercise, std::filesystem::path folder) {
    thread_ = {}; // of the last one, which has ended
    news_.clear();
    all_.reset();
    problems_.clear();
    busy_ = true;
    thread_ = std::jthread([this, exercise = std::move(exercise), folder = std::move(folder)](std::stop_token stop) {
        run(*exercise, folder, std::move(stop));
        busy_ = false;
        wake_();
    });
}

void ClassStudy::cancel() { thread_.request_stop(); }

void ClassStudy::run(const grading::Exercise& exercise, const std::filesystem::path& folder, std::stop_token stop) {
    record::ClassOptions options;
    options.on_entry = [this](std::size_t entry, const record::ClassEntry& found) {
        {
            const std::scoped_lock lock(mutex_);
            news_.push_back({entry, found});
        }
        wake_();
    };
    std::optional<record::ClassMarks> all;
    std::vector<text::Problem> problems;
    try {
        all = record::mark_class(exercise, folder, options, nullptr, std::move(stop));
    } catch (const text::InputError& error) {
        problems = error.problems();
    } catch (const std::exception& error) { // out of memory, say: told, and ends nothing else
        problems = {{folder.string(), 0, text::failure_words(error), text::worded("mark fewer plans at once")}};
    }
    const std::scoped_lock lock(mutex_);
    all_ = std::move(all);
    problems_ = std::move(problems);
}

bool ClassStudy::take(MarkedClass& marked) {
    const std::scoped_lock lock(mutex_);
    const bool any = !news_.empty() || all_ || !problems_.empty();
    for (News& news : std::exchange(news_, {})) {
        if (marked.marks.entries.size() <= news.entry)
            marked.marks.entries.resize(news.entry + 1);
        marked.marks.entries[news.entry] = std::move(news.found);
    }
    if (all_) {
        marked.finished = !all_->cancelled;
        marked.marks = *std::exchange(all_, {});
    }
    if (!problems_.empty())
        marked.problems = std::exchange(problems_, {});
    return any;
}

} // namespace holdtrue::app
