#include "report/colour_scale.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace holdtrue::report {
namespace {

struct Linear {
    double red, green, blue;
};

double to_linear(double srgb) { // IEC 61966-2-1
    return srgb <= 0.04045 ? srgb / 12.92 : std::pow((srgb + 0.055) / 1.055, 2.4);
}
double from_linear(double linear) {
    return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
}

Linear linear_of(const Oklab& lab) {
    const auto cube = [](double v) { return v * v * v; };
    const double l = cube(lab.lightness + 0.3963377774 * lab.a + 0.2158037573 * lab.b);
    const double m = cube(lab.lightness - 0.1055613458 * lab.a - 0.0638541728 * lab.b);
    const double s = cube(lab.lightness - 0.0894841775 * lab.a - 1.2914855480 * lab.b);
    return {4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
            -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
            -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s};
}

bool in_gamut(const Linear& c) {
    return std::min({c.red, c.green, c.blue}) >= 0 && std::max({c.red, c.green, c.blue}) <= 1;
}

// A colour of given lightness and hue, as strong as wanted or as sRGB can show.
Oklab strong(double lightness, double hue_deg, double chroma) {
    const double hue = hue_deg * std::numbers::pi / 180;
    const auto with = [&](double c) { return Oklab{lightness, c * std::cos(hue), c * std::sin(hue)}; };
    if (in_gamut(linear_of(with(chroma))))
        return with(chroma);
    double low = 0, high = chroma;
    for (int k = 0; k < 40; ++k) {
        const double middle = 0.5 * (low + high);
        (in_gamut(linear_of(with(middle))) ? low : high) = middle;
    }
    return with(low);
}

// Walks a path at equal steps of Oklab distance.
template <class Path>
std::vector<Oklab> walk(Path path, std::size_t count) {
    constexpr std::size_t fine = 4000;
    std::vector<Oklab> point;
    std::vector<double> length{0};
    for (std::size_t k = 0; k <= fine; ++k) {
        point.push_back(path(static_cast<double>(k) / fine));
        if (k > 0)
            length.push_back(length.back() + std::hypot(point[k].lightness - point[k - 1].lightness,
                                                        point[k].a - point[k - 1].a, point[k].b - point[k - 1].b));
    }
    std::vector<Oklab> even;
    std::size_t at = 0;
    for (std::size_t k = 0; k < count; ++k) {
        const double wanted = length.back() * static_cast<double>(k) / static_cast<double>(count - 1);
        while (at + 1 < fine && length[at + 1] < wanted)
            ++at;
        const double f = (wanted - length[at]) / (length[at + 1] - length[at]);
        const auto mix = [f](double p, double q) { return p + f * (q - p); };
        even.push_back({mix(point[at].lightness, point[at + 1].lightness), mix(point[at].a, point[at + 1].a),
                        mix(point[at].b, point[at + 1].b)});
    }
    return even;
}

} // namespace

Oklab to_oklab(const Colour& colour) {
    const double r = to_linear(colour.red), g = to_linear(colour.green), b = to_linear(colour.blue);
    const double l = std::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
    const double m = std::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
    const double s = std::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
    return {0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
            1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
            0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

Colour from_oklab(const Oklab& lab) {
    const Linear linear = linear_of(lab);
    const auto edge = [](double v) { return from_linear(std::clamp(v, 0.0, 1.0)); };
    return {edge(linear.red), edge(linear.green), edge(linear.blue)};
}

Colour ColourScale::at(double share) const {
    const double s = share > 0 ? std::min(share, 1.0) * (entries - 1) : 0.0;
    const auto k = std::min(static_cast<std::size_t>(s), entries - 2);
    const double f = s - static_cast<double>(k);
    const auto mix = [f](double p, double q) { return p + f * (q - p); };
    const Colour &p = table_[k], &q = table_[k + 1];
    return {mix(p.red, q.red), mix(p.green, q.green), mix(p.blue, q.blue)};
}

std::array<std::uint8_t, 3 * ColourScale::entries> ColourScale::bytes() const {
    std::array<std::uint8_t, 3 * entries> all{};
    for (std::size_t k = 0; k < entries; ++k) {
        const double rgb[3] = {table_[k].red, table_[k].green, table_[k].blue};
        for (std::size_t c = 0; c < 3; ++c)
            all[3 * k + c] = static_cast<std::uint8_t>(std::lround(255 * rgb[c]));
    }
    return all;
}

ColourScale heat_scale() {
    // Steel coming up to heat: the slate of cold plate loses its blue, glows through plum and brick, ends in straw.
    const auto path = [](double t) {
        const double rise = std::sin(0.5 * std::numbers::pi * std::min(1.0, 1.5 * t));
        const double fade = t > 0.75 ? 1 - 2.2 * (t - 0.75) : 1.0;
        return strong(0.34 + 0.62 * t, 250 + 210 * std::pow(t, 0.62), (0.035 + 0.125 * rise) * fade);
    };
    std::array<Colour, ColourScale::entries> table;
    std::ranges::transform(walk(path, ColourScale::entries), table.begin(), from_oklab);
    return ColourScale(table);
}

ColourScale signed_scale() {
    const auto arm = [](double hue_deg) {
        return [hue_deg](double t) { return strong(0.92 - 0.40 * t, hue_deg, 0.115 * t); };
    };
    constexpr std::size_t half = ColourScale::entries / 2;
    std::array<Colour, ColourScale::entries> table;
    std::ranges::transform(walk(arm(245), half), std::make_reverse_iterator(table.begin() + half), from_oklab);
    std::ranges::transform(walk(arm(52), half), table.begin() + half, from_oklab);
    return ColourScale(table);
}

double heat_share(double kelvin, double low_k, double high_k) {
    return std::pow(std::clamp((kelvin - low_k) / (high_k - low_k), 0.0, 1.0), 0.6);
}

} // namespace holdtrue::report
