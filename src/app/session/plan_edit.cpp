#include "app/session/plan_edit.h"

#include "text/verify.h"
#include "weld/check_plan.h"
#include "weld/choose_card.h"

#include <algorithm>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

bool reachable(const part::Part& part, const part::Joint& joint, int pose) {
    const auto& names = joint.positions_reachable;
    return names.empty() || std::ranges::find(names, part.poses[Index(pose)].name) != names.end();
}

int first_pose_for(const part::Part& part, const part::Joint& joint) {
    for (Index pose = 0; pose < part.poses.size(); ++pose)
        if (reachable(part, joint, static_cast<int>(pose)))
            return static_cast<int>(pose);
    return -1;
}

// Places 0 .. count-1 from the middle to the ends, right and left by turns.
std::vector<Index> from_the_middle(Index count) {
    std::vector<Index> order;
    const Index middle = count / 2;
    for (Index k = 0; order.size() < count; ++k) {
        if (middle + k < count)
            order.push_back(middle + k);
        if (k < middle)
            order.push_back(middle - 1 - k);
    }
    return order;
}

std::vector<weld::WeldPass> one_joint(const part::Part& part, std::vector<int> passes, Pattern pattern) {
    // Layer by layer, and along the path within a layer.
    std::ranges::stable_sort(passes, [&](int a, int b) {
        const part::Pass &pa = part.passes[Index(a)], &pb = part.passes[Index(b)];
        return pa.layer != pb.layer ? pa.layer < pb.layer : pa.from_m < pb.from_m;
    });
    std::vector<weld::WeldPass> welds;
    for (auto first = passes.begin(); first != passes.end();) {
        const int layer = part.passes[Index(*first)].layer;
        const auto last =
            std::find_if(first, passes.end(), [&](int p) { return part.passes[Index(p)].layer != layer; });
        const std::vector<int> row(first, last);
        first = last;
        switch (pattern) {
        case Pattern::along:
        case Pattern::alternate:
            for (const int pass : row)
                welds.push_back({pass, false, 0});
            break;
        case Pattern::backstep:
            for (const int pass : row)
                welds.push_back({pass, true, 0});
            break;
        case Pattern::skip:
            for (const Index start : {Index(0), Index(1)})
                for (Index k = start; k < row.size(); k += 2)
                    welds.push_back({row[k], false, 0});
            break;
        case Pattern::middle_out:
            for (const Index k : from_the_middle(row.size()))
                welds.push_back({row[k], k < row.size() / 2, 0});
            break;
        }
    }
    return welds;
}

} // namespace

int move_of_pass(const weld::Plan& plan, int pass) {
    for (Index m = 0; m < plan.moves.size(); ++m)
        if (const auto* weld = std::get_if<weld::WeldPass>(&plan.moves[m].what); weld && weld->pass == pass)
            return static_cast<int>(m);
    return -1;
}

TaskPasses task_passes(const grading::Exercise& exercise, const weld::Plan& plan) {
    const part::Part& part = *exercise.part;
    const weld::JobState state = weld::state_before(plan, part, plan.moves.size());
    TaskPasses passes;
    for (Index p = 0; p < part.passes.size(); ++p)
        if (exercise.asks_for(part.passes[p].joint)) {
            ++passes.all;
            passes.left += !state.welded[p];
        }
    return passes;
}

std::vector<weld::WeldPass> laid_out(const part::Part& part, const weld::Plan& plan, const std::vector<int>& joints,
                                     part::PassKind kind, Pattern pattern) {
    const weld::JobState state = weld::state_before(plan, part, plan.moves.size());
    std::vector<std::vector<weld::WeldPass>> rows;
    for (const int joint : joints) {
        std::vector<int> passes;
        for (Index p = 0; p < part.passes.size(); ++p)
            if (part.passes[p].joint == joint && part.passes[p].kind == kind && !state.welded[p])
                passes.push_back(static_cast<int>(p));
        rows.push_back(one_joint(part, passes, pattern));
    }
    std::vector<weld::WeldPass> welds;
    if (pattern == Pattern::alternate) {
        for (Index k = 0; std::ranges::any_of(rows, [&](const auto& row) { return k < row.size(); }); ++k)
            for (const auto& row : rows)
                if (k < row.size())
                    welds.push_back(row[k]);
    } else
        for (const auto& row : rows)
            welds.insert(welds.end(), row.begin(), row.end());
    for (weld::WeldPass& weld : welds)
        weld.card = std::max(weld::choose_card(part, weld.pass, plan.cards), 0);
    return welds;
}

void append_welds(const part::Part& part, weld::Plan& plan, const std::vector<weld::WeldPass>& welds) {
    weld::JobState state = weld::state_before(plan, part, plan.moves.size());
    for (const weld::WeldPass& weld : welds) {
        const part::Joint& joint = part.joints[Index(part.passes[Index(weld.pass)].joint)];
        if (!reachable(part, joint, state.pose)) {
            const weld::Move turn{weld::Turn{first_pose_for(part, joint)}, 0};
            if (!weld::obstacle(turn, state, part, plan.cards.size())) {
                plan.moves.push_back(turn);
                state.pose = std::get<weld::Turn>(turn.what).pose;
            }
        }
        plan.moves.push_back({weld, 0});
        state.welded[Index(weld.pass)] = true;
    }
}

std::vector<std::size_t> runs_without_wait(const part::Part& part, const weld::Plan& plan) {
    std::vector<Index> found;
    for (Index m = 1; m < plan.moves.size(); ++m)
        if (const auto* weld = std::get_if<weld::WeldPass>(&plan.moves[m].what);
            weld && part.passes[Index(weld->pass)].kind != part::PassKind::tack &&
            !std::holds_alternative<weld::Wait>(plan.moves[m - 1].what))
            found.push_back(m);
    return found;
}

void wait_before_runs(const part::Part& part, weld::Plan& plan, const weld::Wait& wait) {
    const std::vector<Index> runs = runs_without_wait(part, plan);
    for (auto move = runs.rbegin(); move != runs.rend(); ++move)
        plan.moves.insert(plan.moves.begin() + static_cast<std::ptrdiff_t>(*move), {wait, 0});
}

void shift_move(weld::Plan& plan, std::size_t from, std::size_t to) {
    VERIFY(from < plan.moves.size() && to < plan.moves.size(), "a move is shifted out of the plan");
    const auto begin = plan.moves.begin();
    const auto at = [&](Index k) { return begin + static_cast<std::ptrdiff_t>(k); };
    if (from < to)
        std::rotate(at(from), at(from) + 1, at(to) + 1);
    else
        std::rotate(at(to), at(from), at(from) + 1);
}

} // namespace holdtrue::app
