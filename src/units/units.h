// Units at the edges. Inside the program every quantity is SI: metre, second, kilogram, kelvin, newton, watt,
// volt, ampere. A name carries its unit (thickness_m, wait_s, heat_input_j_per_m). Files and people use trade
// units, and say which in the key or the flag (thickness_mm, thickness_in); this header converts between the two.
#pragma once

#include <array>
#include <span>
#include <string_view>

namespace holdtrue::units {

inline constexpr double mm = 1e-3;
inline constexpr double inch = 0.0254;
inline constexpr double minute = 60.0;
inline constexpr double litre_per_minute = 1e-3 / 60.0;                // [m^3/s]
inline constexpr double cubic_foot_per_hour = 0.028316846592 / 3600.0; // [m^3/s]
inline constexpr double zero_celsius_k = 273.15;
inline constexpr double stefan_boltzmann = 5.670374419e-8; // [W/(m^2 K^4)], CODATA 2018

constexpr double celsius(double degrees_c) { return degrees_c + zero_celsius_k; } // -> [K]
constexpr double to_celsius(double kelvin) { return kelvin - zero_celsius_k; }    // [K] -> degrees C

// One way to write a quantity: si = value * scale + offset.
struct Unit {
    std::string_view suffix; // as it ends a key: "mm" in thickness_mm
    double scale = 1.0;
    double offset = 0.0;
    std::string_view label; // as a person reads it: "mm/min"

    constexpr double to_si(double value) const { return value * scale + offset; }
    constexpr double from_si(double si) const { return (si - offset) / scale; }
};

// All ways to write one kind of quantity. The first is the one that messages suggest.
struct Dimension {
    std::string_view name;
    std::span<const Unit> units;
};

namespace detail {
inline constexpr std::array length{Unit{"mm", mm, 0, "mm"}, Unit{"in", inch, 0, "in"}};
inline constexpr std::array time{Unit{"s", 1, 0, "s"}, Unit{"min", minute, 0, "min"}};
inline constexpr std::array temperature{Unit{"c", 1, zero_celsius_k, "°C"},
                                        Unit{"f", 5.0 / 9.0, zero_celsius_k - 32.0 * 5.0 / 9.0, "°F"}};
inline constexpr std::array kelvins{Unit{"k", 1, 0, "K"}};
inline constexpr std::array travel{Unit{"mm_per_s", mm, 0, "mm/s"}, Unit{"mm_per_min", mm / minute, 0, "mm/min"},
                                   Unit{"in_per_min", inch / minute, 0, "in/min"}};
inline constexpr std::array wire_feed{Unit{"m_per_min", 1 / minute, 0, "m/min"},
                                      Unit{"in_per_min", inch / minute, 0, "in/min"}};
inline constexpr std::array flow{Unit{"l_per_min", litre_per_minute, 0, "L/min"},
                                 Unit{"cfh", cubic_foot_per_hour, 0, "cfh"}};
inline constexpr std::array voltage{Unit{"v", 1, 0, "V"}};
inline constexpr std::array current{Unit{"a", 1, 0, "A"}};
inline constexpr std::array stress{Unit{"mpa", 1e6, 0, "MPa"}, Unit{"ksi", 6.894757293168e6, 0, "ksi"}};
inline constexpr std::array angle{Unit{"deg", 0.017453292519943295, 0, "°"}};
inline constexpr std::array area{Unit{"mm2", mm* mm, 0, "mm²"}, Unit{"in2", inch* inch, 0, "in²"}};
inline constexpr std::array speed{Unit{"m_per_s", 1, 0, "m/s"}, Unit{"mph", 0.44704, 0, "mph"}};
} // namespace detail

inline constexpr Dimension length{"length", detail::length};
inline constexpr Dimension time{"time", detail::time};
inline constexpr Dimension temperature{"temperature", detail::temperature}; // a point on the scale
inline constexpr Dimension temperature_difference{"temperature difference", detail::kelvins};
inline constexpr Dimension travel{"travel speed", detail::travel};
inline constexpr Dimension wire_feed{"wire feed speed", detail::wire_feed};
inline constexpr Dimension flow{"gas flow", detail::flow};
inline constexpr Dimension voltage{"voltage", detail::voltage};
inline constexpr Dimension current{"current", detail::current};
inline constexpr Dimension stress{"stress", detail::stress};
inline constexpr Dimension angle{"angle", detail::angle};
inline constexpr Dimension area{"area", detail::area};
inline constexpr Dimension speed{"air speed", detail::speed};

} // namespace holdtrue::units
