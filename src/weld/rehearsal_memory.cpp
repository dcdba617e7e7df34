#include "weld/rehearsal_memory.h"

#include <algorithm>

namespace holdtrue::weld {

namespace {

constexpr std::size_t most_trails = 4, moves_between = 6;

std::size_t common(std::span<const Move> a, std::span<const Move> b) {
    const auto same = [](const Move& one, const Move& other) { return one.what == other.what; };
    return static_cast<std::size_t>(std::ranges::mismatch(a, b, same).in1 - a.begin());
}

} // namespace

const RehearsalPoint* RehearsalMemory::recall(std::span<const Move> moves) {
    Trail trail{{moves.begin(), moves.end()}, {}};
    const auto alike =
        std::ranges::max_element(trails_, {}, [&](const Trail& earlier) { return common(earlier.moves, moves); });
    if (alike != trails_.end()) {
        const std::size_t way = common(alike->moves, moves);
        for (const auto& point : alike->points)
            if (point->moves.size() <= way)
                trail.points.push_back(point);
        std::rotate(trails_.begin(), alike, alike + 1);
    }
    trails_.push_front(std::move(trail));
    if (trails_.size() > most_trails)
        trails_.pop_back();
    const auto& points = trails_.front().points;
    return points.empty() ? nullptr : points.back().get();
}

bool RehearsalMemory::worth_keeping(std::size_t move_count) const {
    const auto& points = trails_.front().points;
    return move_count >= moves_between + (points.empty() ? 0 : points.back()->moves.size());
}

void RehearsalMemory::keep(const RehearsalPoint& point) {
    trails_.front().points.push_back(std::make_shared<const RehearsalPoint>(point));
}

} // namespace holdtrue::weld
