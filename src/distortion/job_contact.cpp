// Which faces of a job touch.
#include "distortion/job_run.h"

#include <algorithm>

namespace holdtrue::distortion {

double JobRun::gap_of(int group) const {
    const WeldGroup& its = model_.groups()[static_cast<std::size_t>(group)];
    return model_.part().joints[static_cast<std::size_t>(its.joint)].root_gap_m;
}

// Closes and opens contacts until none crosses and none pulls. First all that are wrong at a time, which may go round
// in circles; then only the first of them, which comes to an end (K. G. Murty 1974, from memory: least-index pivots of
// a linear complementarity problem whose matrix, here the flexibility between the faces, is positive definite).
void JobRun::settle() {
    if (!settings_.contact)
        return;
    constexpr int rounds_with_all = 12, most_rounds = 1000;
    const double slack_m = settings_.watch.slack_m, slack_n = settings_.watch.slack_n;
    const auto opening_of = [&](int group) { return model_.groups()[static_cast<std::size_t>(group)].opening(); };
    for (int round = 0; round < most_rounds; ++round) {
        std::vector<int> apart, rows, wrong; // groups that are open and their rows; groups whose contact must change
        for (int g = 0; g < static_cast<int>(now_.faces.size()); ++g) {
            const Faces faces = now_.faces[static_cast<std::size_t>(g)];
            if (faces == Faces::apart) {
                apart.push_back(g);
                rows.push_back(opening_of(g));
            } else if (faces == Faces::touching && response_.force(opening_of(g)) > slack_n)
                wrong.push_back(g);
        }
        const std::vector<double> opening = response_.values(rows);
        for (std::size_t k = 0; k < apart.size(); ++k)
            if (opening[k] < -gap_of(apart[k]) - slack_m)
                wrong.push_back(apart[k]);
        if (wrong.empty())
            return;
        if (round >= rounds_with_all)
            wrong = {std::ranges::min(wrong)};
        std::vector<int> open, close;
        std::vector<double> closed_at;
        for (const int g : wrong) {
            Faces& faces = now_.faces[static_cast<std::size_t>(g)];
            const bool touch = faces == Faces::apart;
            faces = touch ? Faces::touching : Faces::apart;
            (touch ? close : open).push_back(opening_of(g));
            if (touch)
                closed_at.push_back(-gap_of(g));
        }
        response_.release(open);
        response_.fix(close, closed_at);
    }
    now_.settled = false;
}

double JobRun::deepest_overlap_m() {
    double deepest = 0;
    for (std::size_t g = 0; g < now_.faces.size(); ++g)
        if (now_.faces[g] == Faces::apart || now_.faces[g] == Faces::touching) {
            const double opening = response_.value(model_.groups()[g].opening());
            deepest = std::max(deepest, -gap_of(static_cast<int>(g)) - opening);
        }
    return deepest;
}

} // namespace holdtrue::distortion
