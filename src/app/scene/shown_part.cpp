#include "app/scene/shown_part.h"

#include <algorithm>
#include <ranges>

namespace holdtrue::app::scene {

namespace {

PixelBox seen_line(const View& view, const Segment& line) {
    SeenBox seen(view);
    seen.add(line.a);
    seen.add(line.b);
    return seen.box(0.5f * line.width_px + 2); // with its soft edge
}

} // namespace

void ShownPart::set_surface(const Surface& surface) {
    position_ = surface.position;
    triangle_ = surface.triangle;
    node_of_vertex_ = surface.node;
    runs_ = triangle_runs(surface);
    values_.assign(position_.size(), 0);
    value_changed_.assign(position_.size(), 0);
    seen_runs_.clear();
    aimed_ = false;
}

void ShownPart::set_values(std::span<const float> per_node, float unseen) {
    wanted_values_.resize(values_.size());
    for (std::size_t k = 0; k < values_.size(); ++k)
        wanted_values_[k] = per_node[static_cast<std::size_t>(node_of_vertex_[k])];
    follow_values(runs_, triangle_, wanted_values_, unseen, values_, value_changed_);
    span_values(runs_, triangle_, values_);
}

void ShownPart::set_lines(std::span<const Segment> lines) {
    // What begins and ends alike has changed in its middle only.
    const auto [was, is] = std::ranges::mismatch(lines_, lines);
    const auto [last_was, last_is] =
        std::ranges::mismatch(std::ranges::subrange(was, lines_.end()) | std::views::reverse,
                              std::ranges::subrange(is, lines.end()) | std::views::reverse);
    changed_lines_.insert(changed_lines_.end(), was, last_was.base());
    changed_lines_.insert(changed_lines_.end(), is, last_is.base());
    lines_.assign(lines.begin(), lines.end());
    aimed_ = false;
}

void ShownPart::aim(const View& view) {
    if (aimed_ && view == view_)
        return;
    aimed_ = true;
    view_ = view;
    seen_runs_.clear();
    for (const TriangleRun* run : facing_the_eye(runs_, view.view_from_part)) {
        SeenBox seen(view);
        for (std::size_t k = run->start; k < run->start + run->count; ++k)
            seen.add(position_[triangle_[k]]);
        seen_runs_.push_back({run, seen.box(1)});
    }
    seen_lines_.clear();
    for (const Segment& line : lines_)
        seen_lines_.push_back(seen_line(view, line));
}

PixelBox ShownPart::bounds() const {
    PixelBox all;
    for (const SeenRun& seen : seen_runs_)
        all = joined(all, seen.box);
    for (const PixelBox& box : seen_lines_)
        all = joined(all, box);
    return all;
}

std::vector<PixelBox> ShownPart::take_changed() {
    std::vector<PixelBox> boxes;
    for (const SeenRun& seen : seen_runs_) {
        SeenBox changed(view_);
        for (std::size_t k = seen.run->start; k < seen.run->start + seen.run->count; k += 3) {
            const std::span<const std::uint32_t> corners(&triangle_[k], 3);
            if (std::ranges::any_of(corners, [&](std::uint32_t vertex) { return value_changed_[vertex]; }))
                for (const std::uint32_t vertex : corners)
                    changed.add(position_[vertex]);
        }
        boxes.push_back(changed.box(1));
    }
    for (const Segment& line : changed_lines_)
        boxes.push_back(seen_line(view_, line));
    std::erase_if(boxes, [](const PixelBox& box) { return box.empty(); });
    std::ranges::fill(value_changed_, 0);
    changed_lines_.clear();
    return boxes;
}

std::vector<const TriangleRun*> ShownPart::runs_in(const PixelBox& box) const {
    std::vector<const TriangleRun*> found;
    for (const SeenRun& seen : seen_runs_)
        if (!common(seen.box, box).empty())
            found.push_back(seen.run);
    return found;
}

std::vector<std::size_t> ShownPart::lines_in(const PixelBox& box) const {
    std::vector<std::size_t> found;
    for (std::size_t k = 0; k < seen_lines_.size(); ++k)
        if (!common(seen_lines_[k], box).empty())
            found.push_back(k);
    return found;
}

} // namespace holdtrue::app::scene
