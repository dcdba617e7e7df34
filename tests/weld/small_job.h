// A small part and shop for tests of plans: a tee with one fillet in two layers of two passes, two tacks and a plug
// joint; two poses; two clamps on a bench.
#pragma once

#include "arc/read_shop.h"
#include "part/read_part.h"

#include <memory>

namespace holdtrue::weld::test {

inline std::shared_ptr<const part::Part> small_part() {
    return part::parse_part(R"(
name = "small"
element_mm = 10
[[panel]]
name = "flange"
kind = "plate"
corners_mm = [[0, -50, 0], [200, -50, 0], [200, 50, 0], [0, 50, 0]]
thickness_mm = 5
[[panel]]
name = "web"
kind = "plate"
corners_mm = [[0, 0, 2.5], [200, 0, 2.5], [200, 0, 62.5], [0, 0, 62.5]]
thickness_mm = 5
[[panel]]
name = "pad"
kind = "plate"
corners_mm = [[60, -45, -5], [140, -45, -5], [140, 45, -5], [60, 45, -5]]
thickness_mm = 5
[[pose]]
name = "up"
up = [0, 0, 1]
[[pose]]
name = "down"
up = [0, 0, -1]
[[joint]]
name = "fillet"
type = "fillet"
panels = ["web", "flange"]
path_mm = [[0, 2.5, 2.5], [200, 2.5, 2.5]]
leg_mm = 6
passes = 2
layers = 2
tacks = 2
reach = ["up"]
card_group = "heavy"
[[joint]]
name = "pad"
type = "plug"
panels = ["pad", "flange"]
path_mm = [[80, 0, -2.5], [120, 0, -2.5]]
hole_mm = 14
reach = ["down"]
[[clamp]]
name = "left"
panel = "flange"
at_mm = [10, -45, 0]
[[clamp]]
name = "right"
panel = "flange"
at_mm = [190, -45, 0]
fixed_at_start = false
[[gauge]]
name = "length"
kind = "distance"
points = [{ panel = "flange", at_mm = [0, 0, 0] }, { panel = "flange", at_mm = [200, 0, 0] }]
)",
                            "small.part.toml");
}

inline std::shared_ptr<const arc::Shop> small_shop() {
    return arc::parse_shop(R"(
name = "small"
[[power_source]]
name = "source"
volts_low_v = 14
volts_high_v = 30
feed_low_m_per_min = 1
feed_high_m_per_min = 16
rated_current_a = 200
rated_duty = 0.4
[[wire]]
id = "solid"
classification = "ER70S-6"
diameter_mm = 0.8
process = "135"
[[wire]]
id = "gasless"
classification = "E71T-11"
diameter_mm = 0.9
process = "114"
[[gas]]
id = "mix"
mix = "75Ar 25CO2"
)",
                           "small.shop.toml");
}

} // namespace holdtrue::weld::test
