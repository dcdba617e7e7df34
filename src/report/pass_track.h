// A pass as a line on a picture.
#pragma once

#include "part/part.h"
#include "report/depth_image.h"

#include <vector>

namespace holdtrue::report {

struct PassTrack {
    std::vector<Place> places; // in the direction welded; one for a plug
    bool seen = false;         // half of it, at least, lies before the surfaces
};

// `surface` is what has been drawn with the same projection.
PassTrack track_of(const part::Part& part, int pass, bool reversed, const Projection& projection,
                   const DepthImage& surface);

} // namespace holdtrue::report
