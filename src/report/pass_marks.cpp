#include "report/pass_marks.h"

#include "report/pass_track.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace holdtrue::report {
namespace {

const part::Joint& joint_of(const part::Part& part, const PassMark& mark) {
    return part.joints[static_cast<std::size_t>(part.passes[static_cast<std::size_t>(mark.pass)].joint)];
}

void arrow_head(Canvas& canvas, const std::vector<Place>& places, double size, const Ink& colour) {
    const Place tip = places.back();
    std::size_t back = places.size() - 1;
    while (back > 0 && (places[back] - tip).norm() < size)
        --back;
    const Place along = tip - places[back];
    if (along.norm() < 1e-6)
        return;
    const Place forward = along.normalized() * size, side{-0.5 * forward.y(), 0.5 * forward.x()};
    canvas.polygon({tip + 0.35 * forward, tip - 0.65 * forward + side, tip - 0.65 * forward - side}, colour);
}

// Badges already placed, and tracks that a badge should not cover.
class Crowd {
public:
    Crowd(const Box& box, const std::vector<PassTrack>& tracks) : box_(box) {
        for (const PassTrack& track : tracks)
            if (track.seen)
                track_places_.insert(track_places_.end(), track.places.begin(), track.places.end());
    }
    // The best of a ring of places round an anchor for a badge of half sizes `half`.
    Place settle(const Place& anchor, const Place& half) {
        Place best = anchor;
        double least = std::numeric_limits<double>::max();
        for (int ring = 1; ring <= 7; ++ring)
            for (int k = 0; k < 16; ++k) {
                const double angle = 0.393 * k + 0.2 * ring, reach = half.x() + 6 + 9 * (ring - 1);
                const Place at = anchor + Place{reach * std::cos(angle), reach * std::sin(angle)};
                const double cost = this->cost(at, half) + 0.012 * reach;
                if (cost < least) {
                    least = cost;
                    best = at;
                }
            }
        taken_.push_back({best, half});
        return best;
    }

private:
    double cost(const Place& at, const Place& half) const {
        double sum = 0;
        if (at.x() - half.x() < box_.x || at.x() + half.x() > box_.right() || at.y() - half.y() < box_.y ||
            at.y() + half.y() > box_.bottom())
            sum += 100;
        for (const auto& [place, other] : taken_) {
            const double over_x = half.x() + other.x() + 2 - std::abs(at.x() - place.x());
            const double over_y = half.y() + other.y() + 2 - std::abs(at.y() - place.y());
            if (over_x > 0 && over_y > 0)
                sum += 20;
        }
        for (const Place& place : track_places_)
            if (std::abs(at.x() - place.x()) < half.x() + 2 && std::abs(at.y() - place.y()) < half.y() + 2)
                sum += 0.25;
        return sum;
    }
    Box box_;
    std::vector<Place> track_places_;
    std::vector<std::pair<Place, Place>> taken_; // centre, half size
};

} // namespace

std::vector<PassMark> pass_marks(const part::Part& part, const weld::Plan& plan) {
    std::vector<PassMark> marks;
    std::size_t group = 0; // first mark of the tacks laid in one go
    const auto is_tack = [&](const PassMark& mark) {
        return part.passes[static_cast<std::size_t>(mark.pass)].kind == part::PassKind::tack;
    };
    for (std::size_t k = 0; k < plan.moves.size(); ++k) {
        const auto* weld = std::get_if<weld::WeldPass>(&plan.moves[k].what);
        if (!weld)
            continue;
        PassMark mark{weld->pass, static_cast<int>(k), weld->reversed, std::to_string(k + 1)};
        const bool joins_group = !marks.empty() && marks.back().move + 1 == mark.move && is_tack(mark) &&
                                 is_tack(marks.back()) && &joint_of(part, mark) == &joint_of(part, marks.back());
        if (joins_group) {
            PassMark& first = marks[group];
            first.label = first.label.substr(0, first.label.find('-')) + "-" + std::to_string(k + 1);
            mark.label.clear();
        } else {
            group = marks.size();
        }
        marks.push_back(std::move(mark));
    }
    return marks;
}

void draw_pass_marks(Canvas& canvas, const Box& box, const part::Part& part, const std::vector<PassMark>& marks,
                     const Projection& projection, const DepthImage& surface, const MarkStyle& style) {
    std::vector<PassTrack> tracks;
    for (const PassMark& mark : marks)
        tracks.push_back(track_of(part, mark.pass, mark.reversed, projection, surface));
    const auto wanted = [&](std::size_t k) {
        return !style.only_joint || part.passes[static_cast<std::size_t>(marks[k].pass)].joint == *style.only_joint;
    };
    const double unit = style.badge_size / 11;
    const Ink halo{{1, 1, 1}, 0.9}, hidden{style.line.colour, 0.22};
    for (std::size_t k = 0; k < marks.size(); ++k) {
        if (!wanted(k))
            continue;
        const PassTrack& track = tracks[k];
        const part::PassKind kind = part.passes[static_cast<std::size_t>(marks[k].pass)].kind;
        if (!track.seen) {
            canvas.polyline(track.places, 1.2 * unit, hidden);
            continue;
        }
        if (kind == part::PassKind::plug) {
            canvas.disc(track.places.front(), 4.5 * unit, halo, style.line, 1.8 * unit);
            continue;
        }
        canvas.polyline(track.places, 4.6 * unit, halo);
        canvas.polyline(track.places, (kind == part::PassKind::tack ? 3.0 : 2.0) * unit, style.line);
        if (kind == part::PassKind::run) {
            arrow_head(canvas, track.places, 11 * unit, halo);
            arrow_head(canvas, track.places, 8.5 * unit, style.line);
        }
    }

    Crowd crowd(box, tracks);
    const Font font{style.badge_size, true};
    for (std::size_t k = 0; k < marks.size(); ++k) {
        if (!wanted(k) || !tracks[k].seen || marks[k].label.empty())
            continue;
        const Place anchor = tracks[k].places[tracks[k].places.size() / 2];
        const double half_height = 0.78 * font.size;
        const Place half{std::max(half_height, 0.5 * canvas.text_width(marks[k].label, font) + 0.42 * font.size),
                         half_height};
        const Place at = crowd.settle(anchor, half);
        canvas.line(anchor, at, 1.0 * unit, style.line);
        const Box badge{at.x() - half.x(), at.y() - half.y(), 2 * half.x(), 2 * half.y()};
        canvas.fill(badge, ink::paper, half_height);
        canvas.outline(badge, 1.1 * unit, style.line, half_height);
        canvas.text({at.x(), at.y() + 0.36 * font.size}, marks[k].label, font, style.line, Align::centre);
    }
}

} // namespace holdtrue::report
