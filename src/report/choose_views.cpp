#include "report/choose_views.h"

#include "report/pass_track.h"

#include <algorithm>

namespace holdtrue::report {
namespace {

// What a usual view shows: passes in sight, and how much of the picture the part fills.
struct Candidate {
    View view;
    std::vector<char> sees; // pass_count
    double filled = 0;
};

Candidate look(const part::Part& part, const part::Mesh& mesh, const View& view) {
    const Box box{0, 0, 480, 300};
    Candidate candidate{view, {}, 0};
    const Projection projection(view, mesh.position_m, box);
    DepthImage image(box, 1);
    image.draw(mesh, mesh.position_m, projection, {}, [](double) { return Colour{}; });
    for (std::size_t pass = 0; pass < part.passes.size(); ++pass)
        candidate.sees.push_back(track_of(part, static_cast<int>(pass), false, projection, image).seen);
    candidate.filled =
        static_cast<double>(std::ranges::count_if(image.pixels(), [](std::uint32_t pixel) { return pixel != 0; })) /
        static_cast<double>(image.pixels().size());
    return candidate;
}

// A part that fills the picture can be read; one seen from below is stranger than one seen from above.
double comfort(const Candidate& candidate) { return candidate.filled + (candidate.view.toward.z() > 0 ? 0.05 : 0); }

} // namespace

std::vector<View> choose_views(const part::Part& part, const part::Mesh& mesh) {
    std::vector<Candidate> candidates;
    for (const double elevation : {32.0, -32.0, 58.0, -58.0})
        for (const double azimuth : {-62.0, -118.0, 62.0, 118.0, -28.0, -152.0, 28.0, 152.0})
            candidates.push_back(look(part, mesh, view_from(azimuth, elevation)));

    constexpr std::size_t most = 4;
    std::vector<View> views;
    std::vector<char> hidden(part.passes.size(), 1); // by every view so far
    while (views.size() < most) {
        const auto left = static_cast<double>(std::ranges::count(hidden, 1));
        const auto shown = [&](const Candidate& candidate) { // of those hidden
            double count = 0;
            for (std::size_t k = 0; k < hidden.size(); ++k)
                count += candidate.sees[k] && hidden[k];
            return left > 0 ? count / left : 0;
        };
        const auto best = std::ranges::max_element(candidates, {}, [&](const Candidate& candidate) {
            const double gain = shown(candidate);
            return gain > 0 ? gain + comfort(candidate) : 0;
        });
        if (!views.empty() && shown(*best) <= 0)
            break;
        views.push_back(best->view);
        for (std::size_t k = 0; k < hidden.size(); ++k)
            hidden[k] = hidden[k] && !best->sees[k];
    }
    return views;
}

} // namespace holdtrue::report
