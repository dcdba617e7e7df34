#include "record/class_marking.h"

#include "distortion/condensed_store.h"
#include "grading/grade.h"
#include "grading/mark_message.h"
#include "grading/variant.h"
#include "parallel/agree.h"
#include "parallel/share_out.h"
#include "record/hand_in.h"
#include "record/near_copy.h"
#include "text/failure.h"
#include "text/input_error.h"
#include "text/system_words.h"
#include "weld/read_plan.h"
#include "weld/save_plan.h"

#include <algorithm>
#include <array>
#include <exception>
#include <limits>
#include <map>
#include <mutex>

namespace holdtrue::record {
namespace {

bool is_plan_or_hand_in(const std::string& name) {
    return name.ends_with(".plan.toml") || name.ends_with(hand_in_ending);
}

std::vector<std::filesystem::path> plans_in(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> files;
    std::error_code error;
    for (std::filesystem::directory_iterator at(folder, error), end; !error && at != end; at.increment(error))
        if (is_plan_or_hand_in(at->path().filename().string()))
            files.push_back(at->path());
    if (error)
        throw text::InputError(folder.string(), 0, {text::worded("cannot be read: {0}"), {text::system_words(error)}},
                               text::worded("name the folder that holds the plans"));
    if (files.empty())
        throw text::InputError(folder.string(), 0, text::worded("holds no .plan.toml or .handin.zip file"),
                               text::worded("name the folder that holds the plans"));
    std::ranges::sort(files);
    return files;
}

// Folders, and files that a trainee may have meant to be marked: "ann.handin (1).zip", "gus.plan.toml.txt".
std::vector<std::string> left_out_in(const std::filesystem::path& folder) {
    constexpr std::array of_the_class{".csv", ".pdf", ".exercise.toml", ".part.toml", ".shop.toml"};
    std::vector<std::string> names;
    std::error_code error;
    for (std::filesystem::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
        const std::string name = at->path().filename().string();
        std::error_code unknown;
        if (name.front() == '.')
            continue;
        if (is_plan_or_hand_in(name))
            continue; // it is told of among the plans, whatever it is
        if (at->is_directory(unknown))
            names.push_back(name + "/");
        else if (std::ranges::none_of(of_the_class, [&](const char* ending) { return name.ends_with(ending); }))
            names.push_back(name);
    }
    std::ranges::sort(names);
    return names;
}

// What makes two plans the same work: all but who wrote them and how they are called.
std::string content_of(weld::Plan plan, const part::Part& part) {
    plan.title = "same";
    plan.trainee.clear();
    plan.exercise.clear();
    plan.variant.reset();
    plan.hints = 0;
    return weld::plan_toml(plan, part);
}

// The exercise in one of its variants, and its part condensed for all who have it.
struct Task {
    grading::Exercise exercise;
    std::shared_ptr<const distortion::CondensedPart> condensed;
    int jobs = 0;
};

std::vector<double> thicknesses(const part::Part& part) {
    std::vector<double> all;
    for (const part::Panel& panel : part.panels)
        all.push_back(panel.thickness_m);
    return all;
}

// A plan that was read, to be welded once for all entries that hold it in the same variant, with as many hints.
struct Job {
    const Task* task = nullptr;
    weld::Plan plan;
    std::vector<std::size_t> entries;
};

// Each plan against all before it that are not the same as another; of several that are alike the one with the fewest
// differences is told.
void find_near_copies(const std::vector<Job>& jobs, ClassMarks& marks) {
    const auto entry_of = [&](const Job& job) -> ClassEntry& { return marks.entries[job.entries.front()]; };
    std::vector<const Job*> before;
    for (const Job& job : jobs) {
        marks.orders_tell = marks.orders_tell || choices_in(job.plan) >= telling_choices;
        ClassEntry& entry = entry_of(job);
        if (entry.same_as >= 0 && entry.same_as != static_cast<int>(job.entries.front()))
            continue;
        int fewest = std::numeric_limits<int>::max();
        for (const Job* other : before) {
            const auto found = near_copy(other->plan, entry_of(*other).file.filename().string(), job.plan);
            if (!found || found->differences >= fewest)
                continue;
            fewest = found->differences;
            entry.near_copy_of = static_cast<int>(other->entries.front());
            entry.near_copy = found->told;
        }
        before.push_back(&job);
    }
}

// What came of it.
struct Marked {
    text::Sentence problem;
    std::optional<grading::Mark> mark;
    std::vector<double> gauge_error; // gauge_count [m or rad]
    double bench_s = 0;
};
template <parallel::Is<Marked> M>
auto fields(M& marked) {
    auto& [problem, mark, gauge_error, bench_s] = marked;
    return std::tie(problem, mark, gauge_error, bench_s);
}

Marked weld_job(const Job& job, weld::Options simulation, std::stop_token stop) {
    const grading::Exercise& exercise = job.task->exercise;
    simulation.condensed = job.task->condensed;
    Marked marked;
    try {
        const auto outcome =
            weld::simulate(exercise.part, exercise.shop, job.plan, simulation, nullptr, std::move(stop));
        if (outcome->status == weld::Status::cancelled) {
            marked.problem = text::worded("stopped before it was marked");
        } else {
            marked.mark = grading::grade(exercise, *outcome, units::System::metric, grading::Advice::single_dials);
            marked.bench_s = outcome->total_s;
            for (const weld::GaugeOutcome& gauge : outcome->gauges)
                marked.gauge_error.push_back(gauge.value - gauge.nominal);
        }
    } catch (const std::exception& error) {
        marked.problem = text::failure_words(error);
    }
    return marked;
}

ClassEntry with_mark(ClassEntry entry, const Marked& marked) {
    entry.mark = marked.mark;
    entry.problem = marked.problem;
    entry.gauge_error = marked.gauge_error;
    entry.bench_s = marked.bench_s;
    return entry;
}

} // namespace

ClassMarks mark_class(const grading::Exercise& exercise, const std::filesystem::path& folder,
                      const ClassOptions& options, ClassProgress* progress, std::stop_token stop) {
    parallel::SelfCommunicator alone;
    parallel::Communicator& ranks = options.communicator ? *options.communicator : alone;
    ClassMarks result;
    result.left_out = left_out_in(folder);
    std::map<int, Task> tasks; // by variant
    std::vector<Job> jobs;
    std::string read; // all of it, to be the same on all ranks
    std::map<std::string, std::size_t> job_of, first_with;
    for (const std::filesystem::path& file : parallel::agreed(ranks, [&] { return plans_in(folder); })) {
        const std::size_t number = result.entries.size();
        ClassEntry& entry = result.entries.emplace_back();
        entry.file = file;
        try {
            const Submission submission = read_submission(file, exercise.name);
            entry.trainee = submission.heading.trainee;
            entry.plan_title = submission.heading.title;
            entry.note = grading::foreign_variant(exercise, submission.heading);
            const int variant = grading::variant_of(exercise, submission.heading);
            entry.variant = variant;
            auto task = tasks.find(variant);
            if (task == tasks.end())
                task = tasks
                           .emplace(variant, Task{variant == exercise.variant
                                                      ? exercise
                                                      : grading::read_exercise_for(exercise.file, submission.heading),
                                                  nullptr})
                           .first;
            const grading::Exercise& asked = task->second.exercise;
            weld::Plan plan = plan_of(submission, asked, file);
            entry.hints = std::min(plan.hints, static_cast<int>(asked.hints.size()));

            const std::string content = content_of(plan, *asked.part);
            if (const auto [known, fresh] = first_with.try_emplace(content, number); !fresh) {
                entry.same_as = static_cast<int>(known->second);
                result.entries[known->second].same_as = entry.same_as;
            }
            const std::string job = std::to_string(variant) + ' ' + std::to_string(entry.hints) + '\n' + content;
            read += file.filename().string() + '\n' + job;
            const auto [known, fresh] = job_of.try_emplace(job, jobs.size());
            if (fresh) {
                jobs.push_back({&task->second, std::move(plan), {}});
                ++task->second.jobs;
            }
            jobs[known->second].entries.push_back(number);
        } catch (const std::exception& error) {
            entry.problem = text::failure_words(error);
            read += entry.problem.english() + '\n';
        }
    }
    parallel::check_same(ranks, folder.string(), read);
    find_near_copies(jobs, result);
    if (options.on_entry)
        for (std::size_t k = 0; k < result.entries.size(); ++k)
            options.on_entry(k, result.entries[k]);

    // One part for all variants whose sheets are the same; for a single plan there is nothing to save.
    const weld::Options simulation = weld::for_marks(options.simulation);
    std::map<std::vector<double>, std::vector<Task*>> tasks_of;
    for (auto& [variant, task] : tasks)
        tasks_of[thicknesses(*task.exercise.part)].push_back(&task);
    for (const auto& [sheets, sharing] : tasks_of) {
        int count = 0;
        for (const Task* task : sharing)
            count += task->jobs;
        std::shared_ptr<const distortion::CondensedPart> condensed;
        if (simulation.condensed && sheets == thicknesses(*exercise.part))
            condensed = simulation.condensed;
        else if (count > 1 && simulation.distortion)
            condensed = weld::condense(*sharing.front()->exercise.part, simulation.element_scale, stop,
                                       distortion::usual_store());
        for (Task* task : sharing)
            task->condensed = condensed;
    }

    const parallel::Workers workers(options.threads > 0 ? options.threads : ranks.cores(), &ranks);
    if (progress)
        progress->all = std::max(1, static_cast<int>(jobs.size()) / workers.ranks());
    std::mutex telling;
    const auto run = [&](int k) {
        const Job& job = jobs[static_cast<std::size_t>(k)];
        Marked marked = weld_job(job, simulation, stop);
        if (progress)
            ++progress->done;
        if (options.on_entry) {
            const std::scoped_lock one_at_a_time(telling);
            for (const std::size_t entry : job.entries)
                options.on_entry(entry, with_mark(result.entries[entry], marked));
        }
        return marked;
    };
    const std::vector<Marked> all = parallel::gather(workers, static_cast<int>(jobs.size()), run);
    for (std::size_t k = 0; k < jobs.size(); ++k)
        for (const std::size_t entry : jobs[k].entries)
            result.entries[entry] = with_mark(std::move(result.entries[entry]), all[k]);
    result.cancelled = parallel::any(ranks, stop.stop_requested());
    return result;
}

} // namespace holdtrue::record
