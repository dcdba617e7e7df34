// Plans that are the same but for a few changes: a wait longer by a second, a digit of a setting, a card called
// otherwise, two passes that change places.
//
// The sign is the order. Two plans are near copies if
//   - their orders begin and end alike (passes and their directions), over nine tenths of the longer order, and
//   - what is alike holds at least 12 choices.
// A choice is a pass that does not go on as the order has gone so far: in the part's own listing it is reached by
// another step, or welded in another direction, than the last two passes were. To weld seam after seam as listed, to
// step back all along, or to go from side to side takes one or two choices however many passes there are; whoever
// thinks for himself may well do the same, and so may half the class. Where each choice is between two ways only,
// twelve of them agree by chance once in 4,096 plans, and orders seldom leave as few as two (common practice, no
// source). On an exercise whose sensible orders hold fewer choices nothing is said of near copies.
#pragma once

#include "text/sentence.h"
#include "weld/plan.h"

#include <optional>
#include <string>

namespace holdtrue::record {

inline constexpr int telling_choices = 12;
inline constexpr double alike_share = 0.9; // of the longer order

int choices_in(const weld::Plan& plan);

struct NearCopy {
    int differences = 0;
    text::Sentence told; // "same order as anna.plan.toml; only this differs: wait 3: 60 s, 65 s"
};

// Of `first`, called `name` where it is told; what differs is told as it is in `first`, then in `plan`. Both plans are
// for one exercise, whatever their variants. None: nothing to be said.
std::optional<NearCopy> near_copy(const weld::Plan& first, const std::string& name, const weld::Plan& plan);

} // namespace holdtrue::record
