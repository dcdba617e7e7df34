// Filler wires: what their classification says, and what a metre of them weighs.
// Sources, from memory: AWS A5.18 (solid steel), A5.20 (flux-cored steel), A5.9 (stainless), A5.10 (aluminium),
// ISO 14341-A. Linear mass is arithmetic; a tubular wire carries less metal than a solid one of its diameter.
#pragma once

#include "text/sentence.h"

#include <string>

namespace holdtrue::material {

enum class Metal { mild_steel, stainless, aluminium };
enum class WireForm { solid, flux_gas_shielded, flux_self_shielded, metal_cored };

struct WireClass {
    WireForm form = WireForm::solid;
    Metal metal = Metal::mild_steel;
    bool electrode_negative = false; // what the class asks for; otherwise electrode positive
    double thickness_max_m = 0;      // usual limit of the class; 0: none
    bool single_pass_only = false;
    text::Sentence meaning; // one clause for people
};

// From "ER70S-6", "G 42 4 M21 3Si1", "E71T-1C", "E71T-11", "ER308LSi", "ER5356". An unknown classification is read as
// solid mild-steel wire when `fallback_form` is solid; the meaning says so.
WireClass wire_class(const std::string& classification, WireForm fallback_form = WireForm::solid);

// [m^2], of the round that is fed
double wire_area_m2(double diameter_m);
// [kg/m^3] of the metal
double density_kg_per_m3(Metal metal);
// Mass per length of wire [kg/m]; flux-cored wire weighs about 0.85 of solid (from memory, +-0.05).
double linear_mass_kg_per_m(double diameter_m, WireForm form, Metal metal);

} // namespace holdtrue::material
