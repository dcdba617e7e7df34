// How fast an arc melts its wire, and so which current a wire feed draws.
//   feed = alpha I + beta l (I^2 + s^2)            [m/s], l = electrode extension
// The form is Lesnewich's (1958): arc heat, and resistance heat in the extension. Coefficients of 1.2 mm steel wire,
// alpha 0.30 mm/(A s), beta 5.0e-5 1/(A^2 s), and of aluminium, alpha 0.75 mm/(A s), beta nil: printed in the IIW and
// textbook literature, from memory (others print alpha 0.25-0.33, beta 4.5e-5-6e-5 for steel). Other diameters scale
// as alpha ~ 1/A, beta ~ 1/A^2 (A = wire area), which follows from the energy balance and is not published per size.
// Two terms are ours, so that the bands of workshop practice for 0.6-0.9 mm wire are met (common practice, no source;
// tests/arc/melting_rate_test.cpp lists them):
//   - s = 50 A: resistance heat goes with the square of the rms current, and a short-circuit arc ripples about its
//     mean; without s the line asks too little feed below 60 A;
//   - alpha times 0.92 up to 0.9 mm, rising to 1 at 1.2 mm: unscaled, thin wires would ask too much feed.
// Expect +-10 % against a meter for solid steel wire of 0.6-1.2 mm at 30-350 A; +-25 % for the rest (flux-cored:
// feed 1.3 times (gas-shielded), 0.75 times (self-shielded, electrode negative) that of solid wire, from memory;
// stainless: beta 1.35 times steel, from the ratio of resistivities).
#pragma once

#include "material/filler_wire.h"

namespace holdtrue::arc {

struct MeltingRate {
    double alpha_m_per_as = 0; // feed per ampere
    double beta_per_a2s = 0;   // feed per metre of extension and square ampere
    double ripple_a = 0;       // s above
    double feed_m_per_s(double current_a, double extension_m) const;
    double current_a(double feed_m_per_s, double extension_m) const; // inverse of the above; 0 if too slow to melt
};
MeltingRate melting_rate(double wire_diameter_m, material::WireForm form, material::Metal metal);

// Wire that carries current but no arc: tip distance less an arc length of 3 mm, at least 2 mm.
double electrode_extension_m(double tip_distance_m);

} // namespace holdtrue::arc
