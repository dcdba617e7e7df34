#include "record/hand_in.h"

#include "grading/variant.h"
#include "text/input_error.h"

#include <algorithm>

namespace holdtrue::record {

Bundle hand_in(const grading::Exercise& exercise, const std::string& plan_text, const weld::PlanHeading& heading,
               int hints, const std::string& program) {
    Bundle bundle;
    bundle.kind = BundleKind::hand_in;
    bundle.exercise = exercise.name;
    bundle.trainee = heading.trainee;
    bundle.variant = exercise.variant;
    bundle.hints = hints;
    bundle.program = program;
    bundle.files = {{std::string(plan_in_hand_in), plan_text}};
    return bundle;
}

Submission read_submission(const std::filesystem::path& file, const std::string& exercise) {
    Submission submission;
    if (!file.filename().string().ends_with(hand_in_ending)) {
        submission.plan_text = read_bounded(file, ArchiveLimits{}.file_bytes);
        submission.heading = weld::parse_heading(submission.plan_text, file.string());
        return submission;
    }
    const Bundle bundle = read_bundle(file);
    if (bundle.kind != BundleKind::hand_in)
        throw text::InputError(file.string(), 0, text::worded("is a hand-out, not a hand-in"),
                               text::worded("choose the hand-in that came back: the menu makes one of a plan, "
                                            "and so does 'holdtrue handin' in a terminal"));
    if (bundle.exercise != exercise)
        throw text::InputError(file.string(), 0, {text::worded("is a hand-in for exercise {0}"), {bundle.exercise}},
                               text::worded("mark it with that exercise"));
    submission.plan_text = content_of(bundle, plan_in_hand_in, file.string());
    submission.heading = weld::parse_heading(submission.plan_text, file.string() + ":" + std::string(plan_in_hand_in));
    if (!bundle.trainee.empty())
        submission.heading.trainee = bundle.trainee;
    submission.heading.hints = std::max(submission.heading.hints, bundle.hints);
    return submission;
}

weld::Plan plan_of(const Submission& submission, const grading::Exercise& exercise, const std::filesystem::path& file) {
    weld::Plan plan;
    try {
        plan = grading::parse_plan_for(exercise, submission.plan_text, file.string());
    } catch (const text::InputError&) {
        // Every name in a plan for another part would be unknown: one line says it all.
        const std::filesystem::path named = std::filesystem::path(submission.heading.exercise).filename();
        if (!named.empty() && named != exercise.file.filename())
            throw text::InputError(
                file.string(), 0,
                {text::worded("is a plan for {0}, not for {1}"), {named.string(), exercise.file.filename().string()}},
                text::worded("mark it with that exercise"));
        throw;
    }
    plan.trainee = submission.heading.trainee;
    plan.hints = submission.heading.hints;
    return plan;
}

} // namespace holdtrue::record
