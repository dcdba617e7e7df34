#include "part/iso_13920.h"

#include <array>
#include <cstddef>
#include <numbers>

namespace holdtrue::part::iso_13920 {
namespace {

// Column k holds for lengths above upper[k - 1], up to and including upper[k]; the last column has no upper end.
template <std::size_t columns>
struct ClassTable {
    double least_mm;
    std::array<double, columns - 1> upper_mm;
    char first_class;
    std::array<std::array<double, columns>, 4> rows;

    std::optional<double> find(char tolerance_class, double length_m) const {
        const int row = tolerance_class - first_class;
        // A hair of slack, so that a nominal of exactly 2 mm is not lost in the conversion.
        const double length_mm = length_m * 1e3 * (1 - 1e-12);
        if (row < 0 || row >= 4 || length_mm < least_mm * (1 - 1e-9))
            return std::nullopt;
        std::size_t column = 0;
        while (column + 1 < columns && length_mm > upper_mm[column])
            ++column;
        return rows[static_cast<std::size_t>(row)][column];
    }
};

constexpr ClassTable<11> table_1{2,
                                 {30, 120, 400, 1000, 2000, 4000, 8000, 12000, 16000, 20000},
                                 'A',
                                 {{{1, 1, 1, 2, 3, 4, 5, 6, 7, 8, 9},
                                   {1, 2, 2, 3, 4, 6, 8, 10, 12, 14, 16},
                                   {1, 3, 4, 6, 8, 11, 14, 18, 21, 24, 27},
                                   {1, 4, 7, 9, 12, 16, 21, 27, 32, 36, 40}}}};

constexpr ClassTable<3> table_2_minutes{
    0, {400, 1000}, 'A', {{{20, 15, 10}, {45, 30, 20}, {60, 45, 30}, {90, 75, 60}}}};

constexpr ClassTable<10> table_3{30,
                                 {120, 400, 1000, 2000, 4000, 8000, 12000, 16000, 20000},
                                 'E',
                                 {{{.5, 1, 1.5, 2, 3, 4, 5, 6, 7, 8},
                                   {1, 1.5, 3, 4.5, 6, 8, 10, 12, 14, 16},
                                   {1.5, 3, 5.5, 9, 11, 16, 20, 22, 25, 25},
                                   {2.5, 5, 9, 14, 18, 26, 32, 36, 40, 40}}}};

} // namespace

std::optional<double> linear_m(char tolerance_class, double nominal_m) {
    const auto found = table_1.find(tolerance_class, nominal_m);
    return found ? std::optional(*found * 1e-3) : std::nullopt;
}

std::optional<double> angular_rad(char tolerance_class, double shorter_leg_m) {
    const auto found = table_2_minutes.find(tolerance_class, shorter_leg_m);
    return found ? std::optional(*found / 60 * std::numbers::pi / 180) : std::nullopt;
}

std::optional<double> straightness_m(char tolerance_class, double length_m) {
    const auto found = table_3.find(tolerance_class, length_m);
    return found ? std::optional(*found * 1e-3) : std::nullopt;
}

} // namespace holdtrue::part::iso_13920
