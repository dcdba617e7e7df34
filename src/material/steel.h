// Unalloyed structural steel against temperature, 20 C to beyond the melting range.
//
// Sources: EN 1993-1-2:2005 cl. 3.4.1 (elongation, specific heat, conductivity; 20 to 1200 C), Table 3.1 (reduction
// factors), Annex E Table E.1 (0.2 % proof strength, from memory), cl. 3.2.2 (density). Melting range and latent heat
// are from memory; published values scatter: solidus 1440-1480 C, liquidus 1505-1530 C, latent heat 247-277 kJ/kg.
//
// Outside 20 to 1200 C, where the code gives nothing: below 20 C every curve keeps its value at 20 C (the elongation
// its slope); above 1200 C specific heat stays 650 J/kgK and conductivity 27.3 W/mK (no allowance for the stirring of
// the pool), the elongation keeps its slope up to the solidus and is constant from there, strength and stiffness are 0.
#pragma once

#include "units/units.h"

namespace holdtrue::material {

inline constexpr double steel_density_kg_per_m3 = 7850; // constant
inline constexpr double steel_poisson_ratio = 0.3;      // constant
inline constexpr double steel_modulus_20c_pa = 210e9;
inline constexpr double steel_solidus_k = units::celsius(1460);
inline constexpr double steel_liquidus_k = units::celsius(1520);
inline constexpr double steel_latent_heat_j_per_kg = 270e3; // spread evenly over the melting range

// All take the temperature in kelvin.
double steel_conductivity_w_per_mk(double temperature_k);
double steel_specific_heat_j_per_kgk(double temperature_k); // without the latent heat of melting
double steel_elongation(double temperature_k);              // dl/l from 20 C

// Factors on the value at 20 C, linear between the hundreds of degrees C.
double steel_yield_factor(double temperature_k);        // k_y: effective yield strength, reached at 2 % strain
double steel_proof_factor(double temperature_k);        // k_p0.2: stress at 0.2 % plastic strain
double steel_proportional_factor(double temperature_k); // k_p: proportional limit, where plastic strain begins
double steel_modulus_factor(double temperature_k);      // k_E

// Integrals in closed form, so that the 735 C peak of the specific heat is counted whole.
double steel_heat_content_j_per_kg(double temperature_k); // from 20 C, with the latent heat
double steel_kirchhoff_w_per_m(double temperature_k);     // int k dT from 20 C

} // namespace holdtrue::material
