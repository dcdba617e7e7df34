#include "app/scene/triangle_runs.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace holdtrue::app::scene {

namespace {

// As many of the triangles from there on as look much the same way, and are near or far as a whole.
TriangleRun run_from(const Surface& surface, std::size_t start) {
    constexpr std::size_t longest = 3 * 96; // indices
    constexpr float same_way = 0.4f;        // cosine
    const auto at = [&](std::size_t k) -> const Eigen::Vector3f& { return surface.position[surface.triangle[k]]; };
    TriangleRun run;
    run.start = start;
    Eigen::AlignedBox3f box;
    float least = 1;
    for (std::size_t k = start; k < std::min(start + longest, surface.triangle.size()); k += 3, run.count += 3) {
        const Eigen::Vector3f normal = (at(k + 1) - at(k)).cross(at(k + 2) - at(k)).normalized();
        if (run.count == 0)
            run.facing = normal;
        const float cosine = run.facing.dot(normal);
        if (cosine < same_way && run.count > 0)
            break;
        least = std::min(least, cosine);
        for (const std::size_t corner : {k, k + 1, k + 2})
            box.extend(at(corner));
    }
    run.middle = box.center();
    run.reach_m = 0.5f * box.diagonal().norm();
    run.spread = std::acos(std::clamp(least, -1.0f, 1.0f));
    return run;
}

} // namespace

std::vector<TriangleRun> triangle_runs(const Surface& surface) {
    std::vector<TriangleRun> runs;
    for (std::size_t start = 0; start < surface.triangle.size(); start += runs.back().count)
        runs.push_back(run_from(surface, start));
    return runs;
}

void span_values(std::vector<TriangleRun>& runs, std::span<const std::uint32_t> triangle,
                 std::span<const float> value_of_vertex) {
    for (TriangleRun& run : runs) {
        run.low = std::numeric_limits<float>::max();
        run.high = std::numeric_limits<float>::lowest();
        for (std::size_t k = run.start; k < run.start + run.count; k += 3) {
            const auto [low, high] = std::minmax(
                {value_of_vertex[triangle[k]], value_of_vertex[triangle[k + 1]], value_of_vertex[triangle[k + 2]]});
            run.low = std::min(run.low, low - (high - low));
            run.high = std::max(run.high, high + (high - low));
        }
    }
}

void follow_values(std::span<const TriangleRun> runs, std::span<const std::uint32_t> triangle,
                   std::span<const float> wanted, float unseen, std::span<float> shown, std::span<char> changed) {
    for (const TriangleRun& run : runs) {
        const std::span<const std::uint32_t> vertices = triangle.subspan(run.start, run.count);
        const auto differs = [&](std::uint32_t vertex) { return std::abs(wanted[vertex] - shown[vertex]) > unseen; };
        if (std::ranges::none_of(vertices, differs))
            continue;
        for (const std::uint32_t vertex : vertices)
            if (shown[vertex] != wanted[vertex]) {
                shown[vertex] = wanted[vertex];
                changed[vertex] = 1;
            }
    }
}

std::vector<const TriangleRun*> facing_the_eye(std::span<const TriangleRun> runs,
                                               const Eigen::Matrix4f& view_from_part) {
    std::vector<std::pair<float, const TriangleRun*>> order;
    order.reserve(runs.size());
    const Eigen::Vector3f eye = Eigen::Isometry3f(view_from_part).inverse().translation();
    const Eigen::RowVector3f axis = view_from_part.block<1, 3>(2, 0);
    for (const TriangleRun& run : runs) {
        const Eigen::Vector3f there = run.middle - eye;
        const float distance_m = there.norm();
        const float widest = run.spread + std::asin(std::min(run.reach_m / distance_m, 1.0f)); // of what is on its way
        const bool turned_away = widest < 1.5f && run.facing.dot(there) > std::sin(widest) * distance_m;
        if (!turned_away)
            order.emplace_back(-axis.dot(run.middle), &run);
    }
    std::ranges::sort(order);
    std::vector<const TriangleRun*> facing;
    for (const auto& [distance, run] : order)
        facing.push_back(run);
    return facing;
}

} // namespace holdtrue::app::scene
