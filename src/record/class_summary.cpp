#include "record/class_summary.h"

#include "part/gauge_text.h"
#include "text/printable.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>
#include <sstream>
#include <tuple>

namespace holdtrue::record {
namespace {

std::string csv_text(const std::string& told) {
    // Line by line, as what steers a terminal may stand in a file's name.
    std::string text, line;
    for (std::istringstream lines(told); std::getline(lines, line);)
        text += (text.empty() ? "" : "\n") + text::printable(line);
    // A cell that starts like a formula would be run by a spreadsheet.
    if (!text.empty() && std::string_view("=+-@").find(text.front()) != std::string_view::npos)
        text.insert(text.begin(), '\'');
    std::string quoted = "\"";
    for (const char c : text)
        quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quoted + "\"";
}

std::string gravest(const grading::Mark& mark) {
    return mark.remarks.front().chosen.english() + ": " + mark.remarks.front().measured.english();
}

} // namespace

int ClassSummary::fullest_ten() const { return std::max(1, std::ranges::max(tens, {}, &Ten::plans).plans()); }

ClassSummary summary_of(const ClassMarks& marks) {
    ClassSummary summary;
    summary.plans = static_cast<int>(marks.entries.size());
    std::vector<double> totals;
    for (const ClassEntry& entry : marks.entries) {
        summary.not_marked += !entry.problem.empty();
        if (!entry.mark)
            continue;
        totals.push_back(entry.mark->total);
        summary.passed += entry.mark->passed;
        ClassSummary::Ten& ten = summary.tens[static_cast<std::size_t>(std::clamp(entry.mark->total / 10, 0.0, 9.0))];
        ++(entry.mark->passed ? ten.passed : ten.not_passed);
    }
    summary.marked = static_cast<int>(totals.size());
    if (totals.empty())
        return summary;
    std::ranges::sort(totals);
    summary.mean = std::accumulate(totals.begin(), totals.end(), 0.0) / static_cast<double>(totals.size());
    summary.middle = totals[totals.size() / 2];
    summary.lowest = totals.front();
    summary.highest = totals.back();
    return summary;
}

std::vector<CommonRemark> common_remarks(const ClassMarks& marks) {
    std::map<std::string, CommonRemark> count;
    for (const ClassEntry& entry : marks.entries) {
        if (!entry.mark)
            continue;
        std::set<std::string> told;
        for (const grading::Remark& remark : entry.mark->remarks) {
            if (remark.verdict == grading::Verdict::pass)
                continue;
            const std::string topic = remark.topic.english();
            CommonRemark& common = count[topic];
            common.topic = remark.topic;
            common.plans += told.insert(topic).second;
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
        return std::tuple(p.points_lost <= 0, -p.plans, -p.points_lost) <
               std::tuple(q.points_lost <= 0, -q.plans, -q.points_lost);
    });
    return all;
}

text::Sentence on_copies(const ClassMarks& marks) {
    int copies = 0;
    for (std::size_t k = 0; k < marks.entries.size(); ++k) {
        const ClassEntry& entry = marks.entries[k];
        copies += entry.near_copy_of >= 0 || (entry.same_as >= 0 && entry.same_as != static_cast<int>(k));
    }
    text::Sentence told;
    if (copies > 0)
        told = {
            text::worded("Copies of another plan, or nearly: {0}. That is a sign, no proof: ask how they came about."),
            {std::to_string(copies)}};
    if (marks.orders_tell || marks.entries.size() < 2)
        return told;
    const text::Sentence short_orders(
        text::worded("Only identical plans are flagged: the orders hold so few choices that equal ones are no sign."));
    return told.empty() ? short_orders : text::Sentence(text::worded("{0} {1}"), {told, short_orders});
}

text::Sentence remark_on(const ClassMarks& marks, std::size_t index) {
    const ClassEntry& entry = marks.entries[index];
    text::Sentence told = entry.note;
    const auto add = [&](const text::Sentence& more) {
        if (told.empty())
            told = more;
        else if (!more.empty())
            told = text::Sentence(text::worded("{0}; {1}"), {told, more});
    };
    if (entry.same_as >= 0 && entry.same_as != static_cast<int>(index))
        add({text::worded("same plan as {0}"),
             {marks.entries[static_cast<std::size_t>(entry.same_as)].file.filename().string()}});
    add(entry.near_copy);
    add(entry.mark && !entry.mark->passed ? entry.mark->why_not : entry.problem);
    return told;
}

std::string class_csv(const grading::Exercise& exercise, const ClassMarks& marks) {
    std::string text = "file,trainee,plan,mark,passed,settings,order_and_heat,gauges,prediction,time_and_handling,"
                       "bench_min";
    for (const part::Gauge& gauge : exercise.part->gauges)
        text += "," + csv_text(gauge.name + (part::is_angle(gauge.kind) ? " off by (deg)" : " off by (mm)"));
    text += ",same_as,gravest_remark,problem,variant,hints,note,near_copy_of,what_differs\r\n";
    for (const ClassEntry& entry : marks.entries) {
        text +=
            csv_text(entry.file.filename().string()) + "," + csv_text(entry.trainee) + "," + csv_text(entry.plan_title);
        if (entry.mark) {
            text += "," + units::number_text(entry.mark->total, 1) + (entry.mark->passed ? ",yes" : ",no");
            for (const double points : entry.mark->reached)
                text += "," + units::number_text(points, 1);
            text += "," + units::number_text(entry.bench_s / 60, 1);
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
        text += "," + (told ? csv_text(gravest(*entry.mark)) : std::string());
        text += "," + (entry.problem.empty() ? std::string() : csv_text(entry.problem.english()));
        text += "," + std::to_string(entry.variant) + "," + std::to_string(entry.hints) + "," +
                (entry.note.empty() ? std::string() : csv_text(entry.note.english()));
        text +=
            entry.near_copy_of < 0
                ? ",,"
                : "," + csv_text(marks.entries[static_cast<std::size_t>(entry.near_copy_of)].file.filename().string()) +
                      "," + csv_text(entry.near_copy.english());
        text += "\r\n";
    }
    return text;
}

} // namespace holdtrue::record
