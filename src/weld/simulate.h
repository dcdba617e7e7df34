// Welds a part as the plan says: the only place where heat and distortion meet.
// The same inputs give a bitwise equal outcome, whatever the thread count.
#pragma once

#include "weld/outcome.h"

#include <atomic>
#include <memory>
#include <stop_token>

namespace holdtrue::distortion {
class CondensedPart;
}

namespace holdtrue::weld {

struct Options {
    double element_scale = 1.0;  // multiplies the part's element size
    double frame_interval_s = 2; // between stored temperature fields while an arc burns; waits are stored more sparsely
    double cool_to_k = 303.15;   // the part is measured when no place is hotter than this (or than 10 K above ambient)
    bool distortion = true;
    bool fields = true; // keep temperature and displacement fields; a mark does not need them
    bool bands = true;  // work out the gauges' bands; points do not need them
    // For previews and classes: without the cooling after the last move, and without what is read off the section
    // across each pass (t85_s, width_500_m, width_800_m stay 0).
    bool until_cold = true, sections = true;
    // The part condensed before by condense(), with the same element scale; null: made anew.
    std::shared_ptr<const distortion::CondensedPart> condensed = nullptr;
    double reposition_s = 5;       // from the end of one move to the next arc: torch, stance, helmet (common practice)
    double preheat_power_w = 8000; // what the burners bring into the part
};

// The same without what no mark needs: fields, bands, sections and the cooling after the last move.
Options for_marks(Options options);

// Shared with whoever watches; all fields may be read from any thread while simulate() runs.
struct Progress {
    std::atomic<double> share{0}; // 0 to 1
    std::atomic<int> move{0};
};

// What Options::condensed takes: made once, it serves any number of simulations of the part, on any threads, and saves
// each of them some seconds. Null when stopped. `store`: a folder where it is kept for the next time (one that the
// program may write, see distortion/condensed_store.h); empty: it is not. `groups_per_pass`: see
// distortion/weld_group.h; none: as a simulation has.
std::shared_ptr<const distortion::CondensedPart> condense(const part::Part& part, double element_scale = 1,
                                                          std::stop_token stop = {},
                                                          const std::filesystem::path& store = {},
                                                          std::optional<int> groups_per_pass = {});

// The plan must be valid for the part and shop (weld/check_plan.h). A stop request ends in an outcome with status
// cancelled and what was computed so far.
std::shared_ptr<const Outcome> simulate(std::shared_ptr<const part::Part> part, std::shared_ptr<const arc::Shop> shop,
                                        const Plan& plan, const Options& options = {}, Progress* progress = nullptr,
                                        std::stop_token stop = {});

} // namespace holdtrue::weld
