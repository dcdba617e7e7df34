// Points of jobs rehearsed before, so that a plan that begins like one of them goes on from there. What comes out is
// the same to the bit; a search, whose next order is like the last but for one change, saves what they have in common.
#pragma once

#include "distortion/condensed_response.h"
#include "distortion/job_run.h"
#include "weld/heat_table.h"
#include "weld/outcome.h"

#include <cstdint>
#include <deque>
#include <span>

namespace holdtrue::weld {

// How far a job is, and what is hot of it.
struct JobTime {
    double clock_s = 0, arc_s = 0;
    std::vector<HeatTable::Welded> welded;
};

// A rehearsed job between two moves: all that its further course depends on.
struct RehearsalPoint {
    explicit RehearsalPoint(const distortion::CondensedPart& part) : response(part) {} // where it begins

    JobTime time;
    std::vector<MoveOutcome> moves; // so far
    distortion::JobRun::State job;
    distortion::CondensedResponse response;
};

// For one thread, one rehearsal and plans with the same cards.
class RehearsalMemory {
public:
    // The furthest point from which a job with these moves can go on; null: none. Valid until the next recall().
    const RehearsalPoint* recall(std::span<const Move> moves);
    // Of the job with the moves of the last recall(), as far as it is.
    bool worth_keeping(std::size_t move_count) const;
    void keep(const RehearsalPoint& point);

private:
    struct Trail {
        std::vector<Move> moves;
        std::vector<std::shared_ptr<const RehearsalPoint>> points; // those of its beginning are shared with others
    };
    std::deque<Trail> trails_; // that of the last recall(), then those from which jobs went on last
};

} // namespace holdtrue::weld
