// Live models: the small calculations behind a lesson's figure and its computed questions. Each one calls the code
// that the simulation itself uses (arc/, material/, distortion/) or states its own equation and source.
// A model is a pure function of SI numbers; inputs and outputs carry the dimension in which people read them.
#pragma once

#include "units/units.h"

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::lesson {

// Kinds of quantity that only lessons write.
namespace detail {
inline constexpr std::array heat{units::Unit{"kj_per_mm", 1e6, 0, "kJ/mm"}, units::Unit{"j_per_mm", 1e3, 0, "J/mm"}};
inline constexpr std::array force{units::Unit{"kn", 1e3, 0, "kN"}};
inline constexpr std::array share{units::Unit{"percent", 0.01, 0, "%"}};
inline constexpr std::array duration{units::Unit{"min", 60, 0, "min"}, units::Unit{"h", 3600, 0, "h"},
                                     units::Unit{"s", 1, 0, "s"}};
inline constexpr std::array volume{units::Unit{"m3", 1, 0, "m³"}, units::Unit{"l", 1e-3, 0, "L"}};
inline constexpr std::array airflow{units::Unit{"m3_per_h", 1.0 / 3600, 0, "m³/h"}};
inline constexpr std::array deposit_rate{units::Unit{"kg_per_h", 1.0 / 3600, 0, "kg/h"}};
inline constexpr std::array fume_rate{units::Unit{"mg_per_s", 1e-6, 0, "mg/s"}};
inline constexpr std::array concentration{units::Unit{"mg_per_m3", 1e-6, 0, "mg/m³"}};
inline constexpr std::array power{units::Unit{"w", 1, 0, "W"}};
inline constexpr std::array resistance{units::Unit{"ohm", 1, 0, "Ω"}};
inline constexpr std::array small_current{units::Unit{"ma", 1e-3, 0, "mA"}};
inline constexpr std::array pressure{units::Unit{"bar", 1e5, 0, "bar"}};
inline constexpr std::array coating{units::Unit{"um", 1e-6, 0, "µm"}};
inline constexpr std::array line_mass{units::Unit{"g_per_m", 1e-3, 0, "g/m"}};
inline constexpr std::array air_per_length{units::Unit{"m3_per_m", 1, 0, "m³ per m"}};
inline constexpr std::array level{units::Unit{"dba", 1, 0, "dB(A)"}};
inline constexpr std::array distance{units::Unit{"m", 1, 0, "m"}, units::Unit{"ft", 0.3048, 0, "ft"}};
inline constexpr std::array plain{units::Unit{"", 1, 0, ""}};
} // namespace detail
inline constexpr units::Dimension heat_input{"heat input", detail::heat};
inline constexpr units::Dimension force{"force", detail::force};
inline constexpr units::Dimension percentage{"share", detail::share};
inline constexpr units::Dimension duration{"duration", detail::duration};
inline constexpr units::Dimension volume{"volume", detail::volume};
inline constexpr units::Dimension airflow{"air flow", detail::airflow};
inline constexpr units::Dimension deposit_rate{"deposition rate", detail::deposit_rate};
inline constexpr units::Dimension fume_rate{"fume rate", detail::fume_rate};
inline constexpr units::Dimension concentration{"concentration", detail::concentration};
inline constexpr units::Dimension power{"power", detail::power};
inline constexpr units::Dimension resistance{"resistance", detail::resistance};
inline constexpr units::Dimension small_current{"current through a body", detail::small_current};
inline constexpr units::Dimension pressure{"pressure", detail::pressure};
inline constexpr units::Dimension coating{"coating thickness", detail::coating};
inline constexpr units::Dimension line_mass{"mass per length", detail::line_mass};
inline constexpr units::Dimension air_per_length{"air per length", detail::air_per_length};
inline constexpr units::Dimension sound_level{"sound level", detail::level};
inline constexpr units::Dimension distance{"distance", detail::distance};
inline constexpr units::Dimension plain{"number", detail::plain}; // written without a unit

struct Input {
    std::string_view key;   // as lesson.toml names it, without unit
    std::string_view title; // "travel speed"
    const units::Dimension* dimension;
    double low, high, usual; // SI; the model holds from low to high
    int unit = 0;            // which unit of the dimension people read
};
struct Output {
    std::string_view key, title;
    const units::Dimension* dimension;
    int unit = 0;
};

struct Model {
    std::string_view name, title, source;
    std::vector<Input> inputs;
    std::vector<Output> outputs; // empty when the answer is a word
    // inputs (SI, in their order) -> outputs (SI, in their order). Finite for every input within its range.
    std::vector<double> (*evaluate)(std::span<const double>) = nullptr;
    // For answers that are a word or a code: "M21".
    std::string (*word)(std::span<const double>) = nullptr;
    int samples = 101; // points of a curve: fewer where each one is a small simulation

    int input(std::string_view key) const;  // index, or -1
    int output(std::string_view key) const; // index, or -1
    std::vector<double> usual() const;      // one value per input
};

const std::vector<Model>& models();
const Model* find_model(std::string_view name);

// "6.4 m/min": a value as people read it, to about three figures.
std::string with_unit(double si, const units::Dimension& dimension, int unit);
// The same without its unit.
std::string number_text(double value);

} // namespace holdtrue::lesson
