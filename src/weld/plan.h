// The plan: all that the trainee chooses. Read from a .plan.toml by weld/read_plan.h; saved by weld/save_plan.h.
#pragma once

#include "arc/setting_card.h"

#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace holdtrue::weld {

struct WeldPass {
    int pass = 0;          // index into Part::passes
    bool reversed = false; // from to_m to from_m
    int card = 0;          // index into Plan::cards
    bool operator==(const WeldPass&) const = default;
};
struct Wait {
    double time_s = 0;                   // at least this long
    std::optional<double> until_below_k; // and until no place of the part is hotter
    bool operator==(const Wait&) const = default;
};
struct Turn {
    int pose = 0; // index into Part::poses
    bool operator==(const Turn&) const = default;
};
struct ClampMove {
    int clamp = 0;
    bool fix = true;
    bool operator==(const ClampMove&) const = default;
};

struct Move {
    std::variant<WeldPass, Wait, Turn, ClampMove> what;
    int line = 0; // of the plan file; 0 when made in the window
};
// One function for each kind of move, for std::visit.
template <class... Functions>
struct OfMove : Functions... {
    using Functions::operator()...;
};

enum class Sense { shrinks, stays, grows };
struct Prediction {
    int gauge = 0;
    Sense sense = Sense::stays;
    int line = 0; // as for a move
};

inline constexpr int highest_variant = 1000;

struct Plan {
    std::string title;
    std::string trainee;
    std::string exercise;       // the exercise file it answers, relative to the plan file; may be empty
    std::optional<int> variant; // of the exercise; none: the one that the trainee's name draws
    int hints = 0;              // how many of the exercise's hints were taken
    std::filesystem::path file;
    std::vector<arc::SettingCard> cards;
    std::vector<Move> moves;
    std::vector<Prediction> predictions;
};

} // namespace holdtrue::weld
