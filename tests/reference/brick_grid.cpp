#include "reference/brick_grid.h"

#include "material/steel.h"
#include "units/units.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace holdtrue::reference {
namespace {

double normal_cdf(double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }

// Part of a Gaussian that falls on the half cells about line i.
double spread(const std::vector<double>& lines, std::size_t i, double centre, double sigma) {
    const double from = i > 0 ? (lines[i - 1] + lines[i]) / 2 : lines[i];
    const double to = i + 1 < lines.size() ? (lines[i] + lines[i + 1]) / 2 : lines[i];
    return normal_cdf((to - centre) / sigma) - normal_cdf((from - centre) / sigma);
}

double temperature_of(double content, double guess) {
    double low = 200, high = 8000; // safeguarded Newton on a rising function
    for (int k = 0; k < 100; ++k) {
        const double off = material::steel_heat_content_j_per_kg(guess) - content;
        if (std::abs(off) < 1e-6 * std::max(1.0, std::abs(content)))
            break;
        (off > 0 ? high : low) = guess;
        guess -= off / material::steel_specific_heat_j_per_kgk(guess);
        if (guess <= low || guess >= high)
            guess = (low + high) / 2;
    }
    return guess;
}

} // namespace

bool BrickGrid::has_node(std::size_t j, std::size_t k) const {
    return is_solid(j, k) || (j > 0 && is_solid(j - 1, k)) || (k > 0 && is_solid(j, k - 1)) ||
           (j > 0 && k > 0 && is_solid(j - 1, k - 1));
}

std::array<double, 3> BrickGrid::place_m(int node) const {
    const std::size_t n = node - 1, j = n / x_m.size() % y_m.size();
    return {x_m[n % x_m.size()], y_m[j], z_m[n / x_m.size() / y_m.size()]};
}

BrickHeat::BrickHeat(const BrickGrid& grid, double ambient_k)
    : grid_(grid), ambient_k_(ambient_k), volume_m3_(grid.node_count(), 0.0), face_m2_(grid.node_count(), 0.0),
      temperature_(grid.node_count(), ambient_k),
      content_(grid.node_count(), material::steel_heat_content_j_per_kg(ambient_k)) {
    std::map<std::pair<int, int>, double> links;
    double finest = 1;
    for (std::size_t i = 0; i + 1 < grid.x_m.size(); ++i)
        for (std::size_t j = 0; j + 1 < grid.y_m.size(); ++j)
            for (std::size_t k = 0; k + 1 < grid.z_m.size(); ++k) {
                if (!grid.is_solid(j, k))
                    continue;
                const double dx = grid.x_m[i + 1] - grid.x_m[i], dy = grid.y_m[j + 1] - grid.y_m[j],
                             dz = grid.z_m[k + 1] - grid.z_m[k];
                finest = std::min({finest, dx, dy, dz});
                auto corner = [&](int a, int b, int c) { return grid.node(i + a, j + b, k + c); };
                for (int a : {0, 1})
                    for (int b : {0, 1}) {
                        links[{corner(0, a, b), corner(1, a, b)}] += dy * dz / 4 / dx;
                        links[{corner(a, 0, b), corner(a, 1, b)}] += dx * dz / 4 / dy;
                        links[{corner(a, b, 0), corner(a, b, 1)}] += dx * dy / 4 / dz;
                        for (int c : {0, 1})
                            volume_m3_[corner(a, b, c) - 1] += dx * dy * dz / 8;
                        if (!grid.flat && i == 0)
                            face_m2_[corner(0, a, b) - 1] += dy * dz / 4;
                        if (!grid.flat && i + 2 == grid.x_m.size())
                            face_m2_[corner(1, a, b) - 1] += dy * dz / 4;
                        for (int side : {0, 1}) {
                            const bool mirror = grid.mirrored && side == 0 && j == 0;
                            if (!mirror && !grid.flat && !grid.is_solid(side == 0 ? j - 1 : j + 1, k))
                                face_m2_[corner(a, side, b) - 1] += dx * dz / 4;
                            if (!grid.is_solid(j, side == 0 ? k - 1 : k + 1))
                                face_m2_[corner(a, b, side) - 1] += dx * dy / 4;
                        }
                    }
            }
    for (const auto& [nodes, value] : links)
        links_.push_back({nodes.first - 1, nodes.second - 1, value});
    limit_s_ = 0.12 * finest * finest / 15e-6;
}

void BrickHeat::advance(double time_s, std::span<const MovingArc> arcs, double torch_m) {
    const int steps = static_cast<int>(std::ceil(time_s / limit_s_));
    for (int k = 0; k < steps; ++k)
        step(time_s / steps, arcs,
             arcs.empty() ? 0 : torch_m + (k + 0.5) * time_s / steps * arcs.front().travel_m_per_s);
}

void BrickHeat::step(double time_s, std::span<const MovingArc> arcs, double torch_m) {
    const std::size_t nodes = temperature_.size();
    std::vector<double> theta(nodes), in(nodes, 0.0);
    for (std::size_t n = 0; n < nodes; ++n)
        theta[n] = material::steel_kirchhoff_w_per_m(temperature_[n]);
    for (const Link& link : links_) {
        const double flux = link.area_per_length_m * (theta[link.b] - theta[link.a]);
        in[link.a] += flux;
        in[link.b] -= flux;
    }
    for (const MovingArc& arc : arcs) {
        // Across the section the Gaussian is cut to the metal and keeps its power; along x it may hang over an end.
        std::vector<double> across(grid_.y_m.size() * grid_.z_m.size(), 0.0);
        double sum = 0;
        for (std::size_t k = 0; k < grid_.z_m.size(); ++k)
            for (std::size_t j = 0; j < grid_.y_m.size(); ++j)
                if (grid_.has_node(j, k))
                    sum += across[j + grid_.y_m.size() * k] =
                        spread(grid_.y_m, j, arc.y_m, arc.sigma_m) * spread(grid_.z_m, k, arc.z_m, arc.sigma_m);
        for (std::size_t i = 0; i < grid_.x_m.size(); ++i) {
            const double along = spread(grid_.x_m, i, torch_m, arc.sigma_m);
            if (along < 1e-9)
                continue;
            for (std::size_t jk = 0; jk < across.size(); ++jk)
                in[i + grid_.x_m.size() * jk] += arc.heat_j_per_m * arc.travel_m_per_s * along * across[jk] / sum;
            brought_ += arc.heat_j_per_m * arc.travel_m_per_s * along * time_s;
        }
    }
    const double a4 = std::pow(ambient_k_, 4);
    for (std::size_t n = 0; n < nodes; ++n) {
        if (volume_m3_[n] == 0)
            continue;
        const double t = temperature_[n];
        in[n] -= face_m2_[n] * (10 * (t - ambient_k_) + 0.7 * units::stefan_boltzmann * (t * t * t * t - a4));
        content_[n] += in[n] * time_s / (material::steel_density_kg_per_m3 * volume_m3_[n]);
        temperature_[n] = temperature_of(content_[n], t);
    }
}

void BrickHeat::set_uniform(double kelvin) {
    std::ranges::fill(temperature_, kelvin);
    std::ranges::fill(content_, material::steel_heat_content_j_per_kg(kelvin));
}

double BrickHeat::hottest_k() const { return std::ranges::max(temperature_); }

double BrickHeat::coldest_k() const {
    double coldest = 1e9;
    for (std::size_t n = 0; n < temperature_.size(); ++n)
        if (volume_m3_[n] > 0)
            coldest = std::min(coldest, temperature_[n]);
    return coldest;
}

} // namespace holdtrue::reference
