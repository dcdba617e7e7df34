#include "weld/rehearsal_memory.h"

#include <algorithm>

namespace holdtrue::weld {

namespace {

constexpr std::size_t most_kept = 24, most_recent = 4, moves_between = 5;

std::size_t common(std::span<const Move> a, std::span<const Move> b) {
    const auto same = [](const Move& one, const Move& other) { return one.what == other.what; };
    return static_cast<std::size_t>(std::ranges::mismatch(a, b, same).in1 - a.begin());
}

} // namespace

const RehearsalPoint* RehearsalMemory::recall(std::span<const Move> moves) {
    ++clock_;
    known_way_ = 0;
    for (const std::vector<Move>& earlier : recent_)
        known_way_ = std::max(known_way_, common(earlier, moves));
    recent_.emplace_front(moves.begin(), moves.end());
    if (recent_.size() > most_recent)
        recent_.pop_back();

    const Kept* furthest = nullptr;
    for (Kept& kept : kept_) {
        if (common(kept.moves, moves) < kept.moves.size())
            continue;
        kept.recalled = true;
        kept.last = clock_;
        if (!furthest || kept.moves.size() > furthest->moves.size())
            furthest = &kept;
    }
    return furthest ? &furthest->point : nullptr;
}

bool RehearsalMemory::worth_keeping(std::size_t move_count) const {
    return move_count % moves_between == 0 && move_count <= known_way_;
}

// First those go that nobody came back to, then those to which nobody came back for longest.
void RehearsalMemory::keep(std::size_t move_count, const RehearsalPoint& point) {
    const std::span<const Move> moves(recent_.front().data(), move_count);
    if (kept_.size() < most_kept) {
        kept_.push_back({{moves.begin(), moves.end()}, point, false, clock_});
        return;
    }
    Kept& oldest =
        *std::ranges::min_element(kept_, {}, [](const Kept& kept) { return std::pair(kept.recalled, kept.last); });
    oldest.moves.assign(moves.begin(), moves.end());
    oldest.point = point;
    oldest.recalled = false;
    oldest.last = clock_;
}

} // namespace holdtrue::weld
