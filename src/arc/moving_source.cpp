#include "arc/moving_source.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::arc {
namespace {

using std::numbers::pi;

// Largest value of a function with one hump, by golden section.
template <class F>
double highest(F&& f, double low, double high) {
    constexpr double ratio = 0.6180339887498949;
    double a = low, b = high, x = b - ratio * (b - a), y = a + ratio * (b - a), fx = f(x), fy = f(y);
    for (int i = 0; i < 20; ++i) { // the hump is flat: its place to 1e-4 gives its height to 1e-7
        if (fx > fy) {
            b = y;
            y = x;
            fy = fx;
            x = b - ratio * (b - a);
            fx = f(x);
        } else {
            a = x;
            x = y;
            fx = fy;
            y = a + ratio * (b - a);
            fy = f(y);
        }
    }
    return std::max(fx, fy);
}

// Sum over sources at heights z - 2 n h until a pair adds less than a millionth.
template <class Term>
double image_sum(double thickness_m, double z_m, Term&& term) {
    double sum = term(z_m);
    for (int n = 1; n < 2000; ++n) {
        const double pair = term(z_m - 2 * n * thickness_m) + term(z_m + 2 * n * thickness_m);
        sum += pair;
        if (pair < 1e-6 * sum)
            break;
    }
    return sum;
}

} // namespace

PlateProperties mean_properties(material::Metal metal) {
    switch (metal) {
    case material::Metal::mild_steel:
        return {34, 7850 * 690.0};
    case material::Metal::stainless:
        return {24, 7900 * 600.0};
    case material::Metal::aluminium:
        return {180, 2700 * 1050.0};
    }
    return {34, 7850 * 690.0};
}

double thick_plate_rise_k(const PlateProperties& plate, double q, double v, double xi, double y, double z) {
    const double r = std::sqrt(xi * xi + y * y + z * z);
    return q / (2 * pi * plate.conductivity_w_per_mk * r) *
           std::exp(-v * (r + xi) / (2 * plate.diffusivity_m2_per_s()));
}

double thin_plate_rise_k(const PlateProperties& plate, double q, double v, double thickness, double xi, double y) {
    const double per_length = v / (2 * plate.diffusivity_m2_per_s());
    const double argument = per_length * std::hypot(xi, y);
    if (argument > 600) // K0 has vanished; what is left is its asymptote with both exponentials joined
        return q / (2 * pi * plate.conductivity_w_per_mk * thickness) * std::sqrt(pi / (2 * argument)) *
               std::exp(-argument - per_length * xi);
    return q / (2 * pi * plate.conductivity_w_per_mk * thickness) * std::exp(-per_length * xi) *
           std::cyl_bessel_k(0.0, argument);
}

double plate_rise_k(const PlateProperties& plate, double q, double v, double thickness, double xi, double y, double z) {
    return image_sum(thickness, z, [&](double depth) { return thick_plate_rise_k(plate, q, v, xi, y, depth); });
}

double back_face_peak_rise_k(const PlateProperties& plate, double q, double v, double thickness) {
    // The peak comes before heat has spread a few thicknesses: at most this far behind.
    const double behind = 2 * thickness + 2 * v * thickness * thickness / plate.diffusivity_m2_per_s();
    return highest([&](double xi) { return plate_rise_k(plate, q, v, thickness, xi, 0, thickness); }, -behind, 0);
}

double back_face_resting_rise_k(const PlateProperties& plate, double q, double time, double thickness, double radius) {
    if (time <= 0)
        return 0;
    const double reach = std::sqrt(4 * plate.diffusivity_m2_per_s() * time);
    return image_sum(thickness, thickness, [&](double depth) {
        const double r = std::hypot(depth, radius);
        return q / (2 * pi * plate.conductivity_w_per_mk * r) * std::erfc(r / reach);
    });
}

double thin_plate_half_width_m(const PlateProperties& plate, double q, double v, double thickness, double rise) {
    // Where a point's temperature peaks, cos = -xi/r = K0(s)/K1(s) with s = v r / 2a; the peak falls as s grows.
    const double per_length = v / (2 * plate.diffusivity_m2_per_s());
    const double scale = q / (2 * pi * plate.conductivity_w_per_mk * thickness);
    const auto cosine = [](double s) { return std::cyl_bessel_k(0.0, s) / std::cyl_bessel_k(1.0, s); };
    const auto peak = [&](double s) { return scale * std::exp(s * cosine(s)) * std::cyl_bessel_k(0.0, s); };
    double low = 1e-6, high = 300;
    if (peak(low) < rise)
        return 0;
    for (int i = 0; i < 50; ++i) {
        const double middle = std::sqrt(low * high);
        (peak(middle) > rise ? low : high) = middle;
    }
    const double toward_tail = cosine(low);
    return low / per_length * std::sqrt(std::max(0.0, 1 - toward_tail * toward_tail));
}

} // namespace holdtrue::arc
