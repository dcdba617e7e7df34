#include "record/class_marking.h"

#include "distortion/condensed_store.h"
#include "grading/grade.h"
#include "part/gauge_text.h"
#include "text/input_error.h"
#include "weld/read_plan.h"
#include "weld/save_plan.h"

#include <algorithm>
#include <exception>
#include <map>
#include <set>
#include <thread>

namespace holdtrue::record {
namespace {

std::vector<std::filesystem::path> plans_in(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> files;
    std::error_code error;
    for (std::filesystem::directory_iterator at(folder, error), end; !error && at != end; at.increment(error))
        if (at->path().filename().string().ends_with(".plan.toml"))
            files.push_back(at->path());
    if (error)
        throw text::InputError(folder.string(), 0, "cannot be read: " + error.message(),
                               "name the folder that holds the plans");
    if (files.empty())
        throw text::InputError(folder.string(), 0, "holds no .plan.toml file", "name the folder that holds the plans");
    std::ranges::sort(files);
    return files;
}

// What makes two plans the same work: all but who wrote them and how they are called.
std::string content_of(weld::Plan plan, const part::Part& part) {
    plan.title = "same";
    plan.trainee.clear();
    return weld::plan_toml(plan, part);
}

// A plan that was read, to be welded once for all entries that hold it.
struct Job {
    weld::Plan plan;
    std::vector<std::size_t> entries;
};

void weld_job(const grading::Exercise& exercise, const Job& job, const weld::Options& simulation,
              std::vector<ClassEntry>& entries, std::stop_token stop) {
    ClassEntry& first = entries[job.entries.front()];
    try {
        const auto outcome =
            weld::simulate(exercise.part, exercise.shop, job.plan, simulation, nullptr, std::move(stop));
        if (outcome->status == weld::Status::cancelled) {
            first.problem = "stopped before it was marked";
        } else {
            first.mark = grading::grade(exercise, *outcome);
            first.total_s = outcome->total_s;
            for (const weld::GaugeOutcome& gauge : outcome->gauges)
                first.gauge_error.push_back(gauge.value - gauge.nominal);
        }
    } catch (const std::exception& error) {
        first.problem = error.what();
    }
    for (const std::size_t entry : job.entries) {
        entries[entry].mark = first.mark;
        entries[entry].problem = first.problem;
        entries[entry].gauge_error = first.gauge_error;
        entries[entry].total_s = first.total_s;
    }
}

std::vector<CommonRemark> count_remarks(const std::vector<ClassEntry>& entries) {
    std::map<std::string, CommonRemark> count;
    for (const ClassEntry& entry : entries) {
        if (!entry.mark)
            continue;
        std::set<std::string> told;
        for (const grading::Remark& remark : entry.mark->remarks) {
            if (remark.verdict == grading::Verdict::pass)
                continue;
            CommonRemark& common = count[remark.topic];
            common.topic = remark.topic;
            common.plans += told.insert(remark.topic).second;
            common.points_lost += remark.points_lost;
            if (common.example.empty())
                common.example = remark.try_this;
        }
    }
    std::vector<CommonRemark> all;
    for (auto& [topic, common] : count) {
        common.points_lost /= common.plans;
        all.push_back(std::move(common));
    }
    std::ranges::stable_sort(all, [](const CommonRemark& p, const CommonRemark& q) {
        return p.plans != q.plans ? p.plans > q.plans : p.points_lost > q.points_lost;
    });
    return all;
}

std::string csv_text(std::string text) {
    // A cell that starts like a formula would be run by a spreadsheet.
    if (!text.empty() && std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos)
        text.insert(text.begin(), '\'');
    std::string quoted = "\"";
    for (const char c : text)
        quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quoted + "\"";
}

} // namespace

ClassMarks mark_class(const grading::Exercise& exercise, const std::filesystem::path& folder,
                      const ClassOptions& options, ClassProgress* progress, std::stop_token stop) {
    ClassMarks result;
    std::vector<Job> jobs;
    std::map<std::string, std::size_t> job_of;
    for (const std::filesystem::path& file : plans_in(folder)) {
        ClassEntry& entry = result.entries.emplace_back();
        entry.file = file;
        try {
            weld::Plan plan = weld::read_plan(file, *exercise.part, *exercise.shop);
            entry.trainee = plan.trainee;
            entry.plan_title = plan.title;
            const auto [known, fresh] = job_of.try_emplace(content_of(plan, *exercise.part), jobs.size());
            if (fresh)
                jobs.push_back({std::move(plan), {}});
            else
                entry.same_as = static_cast<int>(jobs[known->second].entries.front());
            jobs[known->second].entries.push_back(result.entries.size() - 1);
        } catch (const std::exception& error) {
            entry.problem = error.what();
        }
    }
    for (const Job& job : jobs)
        if (job.entries.size() > 1)
            result.entries[job.entries.front()].same_as = static_cast<int>(job.entries.front());

    // One part for the whole class.
    weld::Options simulation = options.simulation;
    simulation.fields = false;
    if (jobs.size() > 1 && simulation.distortion && !simulation.condensed)
        simulation.condensed =
            weld::condense(*exercise.part, simulation.element_scale, stop, distortion::usual_store());

    if (progress)
        progress->all = static_cast<int>(jobs.size());
    std::atomic<std::size_t> next{0};
    const auto work = [&] {
        for (std::size_t k = next++; k < jobs.size(); k = next++) {
            weld_job(exercise, jobs[k], simulation, result.entries, stop);
            if (progress)
                ++progress->done;
        }
    };
    {
        const unsigned cores = std::max(1U, std::thread::hardware_concurrency());
        const std::size_t count =
            std::min<std::size_t>(jobs.size(), options.threads > 0 ? static_cast<unsigned>(options.threads) : cores);
        std::vector<std::jthread> threads;
        for (std::size_t k = 1; k < count; ++k)
            threads.emplace_back(work);
        work();
    }
    result.cancelled = stop.stop_requested();
    result.common_remarks = count_remarks(result.entries);
    return result;
}

std::string class_csv(const grading::Exercise& exercise, const ClassMarks& marks) {
    std::string text = "file,trainee,plan,mark,passed,settings,order_and_heat,gauges,prediction,time_and_handling,"
                       "total_min";
    for (const part::Gauge& gauge : exercise.part->gauges)
        text += "," + csv_text(gauge.name + (part::is_angle(gauge.kind) ? " off by (deg)" : " off by (mm)"));
    text += ",same_as,gravest_remark,problem\r\n";
    for (const ClassEntry& entry : marks.entries) {
        text +=
            csv_text(entry.file.filename().string()) + "," + csv_text(entry.trainee) + "," + csv_text(entry.plan_title);
        if (entry.mark) {
            text += "," + units::number_text(entry.mark->total, 1) + (entry.mark->passed ? ",yes" : ",no");
            for (const double points : entry.mark->reached)
                text += "," + units::number_text(points, 1);
            text += "," + units::number_text(entry.total_s / 60, 1);
            for (std::size_t g = 0; g < exercise.part->gauges.size(); ++g) {
                const bool angle = part::is_angle(exercise.part->gauges[g].kind);
                text += "," + units::number_text(angle ? units::detail::angle[0].from_si(entry.gauge_error[g])
                                                       : entry.gauge_error[g] * 1e3,
                                                 3);
            }
        } else {
            text += std::string(8 + exercise.part->gauges.size(), ',');
        }
        text += "," + (entry.same_as >= 0
                           ? csv_text(marks.entries[static_cast<std::size_t>(entry.same_as)].file.filename().string())
                           : std::string());
        const bool told =
            entry.mark && !entry.mark->remarks.empty() && entry.mark->remarks.front().verdict != grading::Verdict::pass;
        text += "," + (told ? csv_text(entry.mark->remarks.front().chosen + ": " + entry.mark->remarks.front().measured)
                            : std::string());
        text += "," + (entry.problem.empty() ? std::string() : csv_text(entry.problem)) + "\r\n";
    }
    return text;
}

} // namespace holdtrue::record
