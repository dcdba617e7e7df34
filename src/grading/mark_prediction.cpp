#include "grading/aspects.h"
#include "part/gauge_text.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::grading {
namespace {

text::Wording word(weld::Sense sense) {
    return sense == weld::Sense::shrinks ? worded("shrinks")
           : sense == weld::Sense::grows ? worded("grows")
                                         : worded("stays");
}

// A gauge that moved by less than a quarter of its tolerance may be called "stays"; one that moved by more than a
// twentieth may be called by its sense. Between the two both answers are right.
bool is_right(weld::Sense said, double change, double tolerance) {
    switch (said) {
    case weld::Sense::stays:
        return std::abs(change) <= 0.25 * tolerance;
    case weld::Sense::grows:
        return change >= 0.05 * tolerance;
    case weld::Sense::shrinks:
        return change <= -0.05 * tolerance;
    }
    return false;
}

} // namespace

AspectMark mark_prediction(const Marking& marking) {
    AspectMark result;
    const part::Part& part = marking.part();
    const auto count = static_cast<double>(part.gauges.size());
    double wrong = 0;
    for (std::size_t g = 0; g < part.gauges.size(); ++g) {
        const part::Gauge& gauge = part.gauges[g];
        const double change = marking.outcome.gauges[g].value - marking.outcome.gauges[g].nominal;
        const auto said =
            std::ranges::find(marking.outcome.plan.predictions, static_cast<int>(g), &weld::Prediction::gauge);
        const bool there = said != marking.outcome.plan.predictions.end();
        const bool right = there && is_right(said->sense, change, gauge.tolerance);
        Remark remark;
        remark.gauge = static_cast<int>(g);
        remark.verdict = right ? Verdict::pass : Verdict::caution;
        remark.topic = Sentence(worded("prediction of {0}"), {Sentence::of_file(gauge.title)});
        remark.chosen = Sentence(worded("prediction for '{0}': {1}"),
                                 {Sentence::of_file(gauge.title), there ? word(said->sense) : worded("none given")});
        remark.measured = part::gauge_change_text(gauge, change, marking.system);
        remark.limit = worded("its sense; up to a quarter of the tolerance counts as 'stays'");
        remark.source = worded("the simulated part");
        if (!right) {
            wrong += 1;
            remark.points_lost = 1 / count;
            remark.consequence = there ? worded("the pull was not where you expected it: an order planned on it goes "
                                                "astray")
                                       : worded("without a prediction there is nothing to learn from the result");
            remark.try_this = there ? worded("Ask which weld lies furthest from the middle of the section; the part "
                                             "bends towards it, and every weld shortens it")
                                    : worded("Say for every gauge whether it shrinks, stays or grows before welding");
        }
        result.remarks.push_back(std::move(remark));
    }
    result.credit = count > 0 ? 1 - wrong / count : 1;
    return result;
}

} // namespace holdtrue::grading
