// What a surface of the metal gives to its surroundings,
//   q(T) = inflow removed + convection (T - T_s) + emissivity sigma (T^4 - T_s^4)   [W/m^2], positive outwards
// and the table by which the solver finds q, theta and T from the enthalpy.
#pragma once

#include "heat/stage_kernel.h"
#include "material/thermal_material.h"

#include <span>
#include <vector>

namespace holdtrue::heat {

struct SurfaceLaw {
    double surroundings_k = 293.15;
    double convection_w_per_m2k = 0;
    double emissivity = 0;      // 0 to 1
    double inflow_w_per_m2 = 0; // imposed flux, positive into the metal

    double loss_w_per_m2(double temperature_k) const;
};

// 2048 equal steps of enthalpy from 100 K to 3300 K: steps of 1 to 3 K in steel, 0.2 K at the 735 C peak; linear
// between, straight on beyond.
class SurfaceTable {
public:
    // The losses of all `laws` added: the two faces of a sheet, or one law of an edge.
    SurfaceTable(const material::ThermalMaterial& material, std::span<const SurfaceLaw> laws);

    TableView view() const;
    double loss_w_per_m2(double enthalpy_j_per_m3) const;
    double temperature_k(double enthalpy_j_per_m3) const;

    double steepest_theta() const { return steepest_theta_; } // max d theta / dh [m^2/s]: the largest diffusivity
    double steepest_loss() const { return steepest_loss_; }   // max |dq / dh| [m/s]

private:
    struct Place {
        std::size_t entry;
        double part;
    };
    Place place(double enthalpy_j_per_m3) const;

    std::vector<TableEntry> entries_;
    std::vector<double> temperature_k_; // entry count + 1
    double first_, per_entry_;
    double steepest_theta_ = 0, steepest_loss_ = 0;
};

} // namespace holdtrue::heat
