// Temperature about a steadily moving or resting point of heat on a plate: the closed forms against which a setting
// is judged before any field is computed.
//   thick plate   T - T0 = q / (2 pi lambda R) exp(-v (R + xi) / 2a)
//   thin plate    T - T0 = q / (2 pi lambda h) exp(-v xi / 2a) K0(v r / 2a)
//   any plate     the thick-plate solution summed over image sources at depths 2 n h (both faces insulated)
//   resting arc   T - T0 = sum of q / (2 pi lambda R) erfc(R / sqrt(4 a t)) over the same images
// xi: distance ahead of the source (negative behind), y across, z below the heated face, R from the source.
// Sources: Rosenthal 1941, 1946; Carslaw and Jaeger 10.4, 10.7; from memory. No latent heat, no surface loss,
// constant properties: near the pool expect +-20 %.
#pragma once

#include "material/filler_wire.h"

namespace holdtrue::arc {

struct PlateProperties {
    double conductivity_w_per_mk = 0;
    double heat_capacity_j_per_m3k = 0; // rho c
    double diffusivity_m2_per_s() const { return conductivity_w_per_mk / heat_capacity_j_per_m3k; }
};
// Means between 20 C and melting: steel from EN 1993-1-2 (lambda 34, c 690); others from memory.
PlateProperties mean_properties(material::Metal metal);

// All return the rise above the start temperature [K]; q net power [W], v travel [m/s] > 0.
double thick_plate_rise_k(const PlateProperties&, double q_w, double v, double xi_m, double y_m, double z_m);
double thin_plate_rise_k(const PlateProperties&, double q_w, double v, double thickness_m, double xi_m, double y_m);
double plate_rise_k(const PlateProperties&, double q_w, double v, double thickness_m, double xi_m, double y_m,
                    double z_m);
// Highest rise that the far face sees straight below the path.
double back_face_peak_rise_k(const PlateProperties&, double q_w, double v, double thickness_m);
// Rise of the far face under an arc that rested for `time_s`, spread over a ring of `radius_m`.
double back_face_resting_rise_k(const PlateProperties&, double q_w, double time_s, double thickness_m, double radius_m);
// Distance from the path of a line source through the thickness up to which the thin plate passed `rise_k`.
double thin_plate_half_width_m(const PlateProperties&, double q_w, double v, double thickness_m, double rise_k);

} // namespace holdtrue::arc
