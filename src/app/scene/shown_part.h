// What a picture of the part shows from where, which of it lies in a box of the picture, and where it shows something
// else than before: what a painter must know to paint no more than it has to. No GL.
#pragma once

#include "app/scene/lines.h"
#include "app/scene/seen_box.h"
#include "app/scene/triangle_runs.h"

#include <cstdint>
#include <span>
#include <vector>

namespace holdtrue::app::scene {

class ShownPart {
public:
    ShownPart() = default;
    ShownPart(const ShownPart&) = delete; // what is seen points into it
    ShownPart& operator=(const ShownPart&) = delete;

    void set_surface(const Surface& surface); // with values of 0
    // One value per mesh node. What differs by no more than `unseen` may stay as it is (follow_values()).
    void set_values(std::span<const float> per_node, float unseen);
    std::span<const float> values() const { return values_; } // vertex_count
    void set_lines(std::span<const Segment> lines);

    // From here on it is seen in this view; before what follows.
    void aim(const View& view);
    const View& view() const { return view_; }
    PixelBox bounds() const; // of all that is shown
    // Where values and lines that were set since the last call show in the view. Another surface shows everywhere.
    std::vector<PixelBox> take_changed();
    // What faces the eye and reaches into the box, the nearest first.
    std::vector<const TriangleRun*> runs_in(const PixelBox& box) const;
    std::vector<std::size_t> lines_in(const PixelBox& box) const; // by their place among the lines

private:
    std::vector<Eigen::Vector3f> position_; // vertex_count
    std::vector<std::uint32_t> triangle_;
    std::vector<int> node_of_vertex_;
    std::vector<TriangleRun> runs_;
    std::vector<float> values_, wanted_values_; // vertex_count
    std::vector<char> value_changed_;           // vertex_count
    std::vector<Segment> lines_;
    std::vector<Segment> changed_lines_; // old and new

    struct SeenRun {
        const TriangleRun* run;
        PixelBox box;
    };
    View view_;
    bool aimed_ = false;
    std::vector<SeenRun> seen_runs_; // that face the eye, the nearest first
    std::vector<PixelBox> seen_lines_;
};

} // namespace holdtrue::app::scene
