// Plans welded quickly, many of them: the same gauges, times and interpass temperatures as simulate(), within what the
// sum of single passes' heat leaves out (heat_table.h). For the search over orders and for telling where a plan stands
// among others; what counts is simulated again in full.
//
// A search takes a part condensed with fewer groups to a pass than a simulation has (rehearsal_groups_per_pass): on the
// lift arm an order then costs two thirds, over 60 random orders the readings of both correlate by 0.94 to 0.99 (0.86
// for the bow upwards, which is small), and marks differ by 0.7 points rms, no more than with still finer groups (0.8).
// Contact and yielding are looked at where metal is laid only (distortion::brief_watch).
//
// Prepared once for a part and the cards of a plan, in some seconds; then an order costs some milliseconds. Const and
// safe to use from any number of threads.
#pragma once

#include "distortion/shrinkage_law.h"
#include "weld/heat_table.h"
#include "weld/rehearsal_memory.h"
#include "weld/scatter.h"
#include "weld/simulate.h"

#include <span>

namespace holdtrue::weld {

constexpr int rehearsal_groups_per_pass = 2;

class Rehearsal {
public:
    // `like`: a plan whose cards weld the passes. Stops early when asked to; then ok() is false.
    Rehearsal(std::shared_ptr<const part::Part> part, std::shared_ptr<const arc::Shop> shop, const Plan& like,
              std::shared_ptr<const distortion::CondensedPart> condensed, int threads = 1, const Options& options = {},
              std::stop_token stop = {});

    bool ok() const { return table_ && table_->ok(); }

    // The plan must weld passes with the same cards as `like`; its passes may be fewer. The outcome lacks fields of
    // temperature and displacement, energies, bands, what simulate() reads from sections and the cooling at the end.
    // Preheating and the drain of heat through clamps that are freed early are left out. `scatter`: a job that differs
    // from the plan, with shrinkage in proportion. `memory`: of one thread, to go on from what an earlier plan had in
    // common with this one; not with scatter.
    std::shared_ptr<const Outcome> weld(const Plan& plan, const Scatter* scatter = nullptr,
                                        RehearsalMemory* memory = nullptr) const;

    // Waits before the passes of a plan, in its order, with which each starts no hotter than its limit (pass_count):
    // the shortest of `waits_s` (rising) that does, and none shorter than what the plan waits there; where none does,
    // the longest. As long as a pass's heat only falls where others start, none can be struck earlier, whatever the
    // waits before it, so that no choice ends the job earlier.
    std::vector<double> waits_to_stay_below(const Plan& plan, std::span<const double> limit_k,
                                            std::span<const double> waits_s) const;

private:
    class Run;
    // One move of a plan as clock and heat see it.
    MoveOutcome advance(JobTime& now, HeatTable::Moment& moment, const Plan& plan, std::size_t move,
                        const Scatter* scatter = nullptr) const;
    double before_arc_s(const arc::SetupChange& change) const;
    double wait_until(const JobTime& now, double kelvin) const;

    std::shared_ptr<const part::Part> part_;
    std::shared_ptr<const arc::Shop> shop_;
    std::shared_ptr<const part::Mesh> mesh_;
    std::shared_ptr<const distortion::CondensedPart> condensed_;
    Options options_;
    std::vector<arc::ArcFigures> figures_; // pass_count, in a cold part
    std::unique_ptr<distortion::ShrinkageLaw> law_;
    std::unique_ptr<HeatTable> table_;
    std::unique_ptr<const RehearsalPoint> start_; // of every job
};

} // namespace holdtrue::weld
