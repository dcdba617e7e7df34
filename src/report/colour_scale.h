// Colour scales of the program's pictures, in print and in the window.
// Each is a path through Oklab (B. Ottosson, 2020, "A perceptual color space for image processing") walked at equal
// steps, so that equal differences of the value look equally large. Lightness rises all along the heat scale and
// on both arms of the signed scale: they keep their order in grey print and for every kind of colour blindness.
#pragma once

#include <array>
#include <cstdint>

namespace holdtrue::report {

struct Colour { // sRGB, each 0 to 1
    double red = 0, green = 0, blue = 0;
};

struct Oklab {
    double lightness = 0, a = 0, b = 0; // lightness 0 black to 1 white
};
Oklab to_oklab(const Colour& colour);
Colour from_oklab(const Oklab& lab); // clamped into sRGB

class ColourScale {
public:
    static constexpr std::size_t entries = 256;

    explicit ColourScale(const std::array<Colour, entries>& table) : table_(table) {}
    // share 0 to 1 (clamped; not a number counts as 0), linear between the entries.
    Colour at(double share) const;
    const std::array<Colour, entries>& table() const { return table_; }
    // The table as bytes r, g, b, ... for a texture of `entries` by 1.
    std::array<std::uint8_t, 3 * entries> bytes() const;

private:
    std::array<Colour, entries> table_;
};

// Cold plate to glowing steel: slate, plum, brick, amber, straw.
ColourScale heat_scale();
// Blue (-1, share 0) over grey (0, share 0.5) to orange (+1, share 1): which way and how far something moved.
ColourScale signed_scale();

// Place of a temperature on the heat scale between two limits. The scale is spread towards the cold end, where most
// of a part lies: share = ((T - low) / (high - low))^0.6.
double heat_share(double kelvin, double low_k, double high_k);

} // namespace holdtrue::report
