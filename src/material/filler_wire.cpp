#include "material/filler_wire.h"

#include <cctype>
#include <numbers>
#include <regex>
#include <vector>

namespace holdtrue::material {
namespace {

struct Row {
    std::regex pattern; // on the classification in capitals, spaces taken out
    WireClass means;
};

const std::vector<Row>& rows() {
    using enum WireForm;
    using enum Metal;
    using text::worded;
    static const std::vector<Row> table{
        {std::regex("ER70S-6"),
         {solid, mild_steel, false, 0, false, worded("480 MPa, much deoxidant: bears mill scale, tough to -30 °C")}},
        {std::regex("ER70S-3"),
         {solid, mild_steel, false, 0, false, worded("480 MPa, for clean steel, tough to -20 °C")}},
        {std::regex("ER70S.*"), {solid, mild_steel, false, 0, false, worded("480 MPa solid steel wire")}},
        {std::regex("G[0-9]{2}.*"), {solid, mild_steel, false, 0, false, worded("solid steel wire by ISO 14341-A")}},
        {std::regex("E7[01]C-.*"), {metal_cored, mild_steel, false, 0, false, worded("metal-cored, 480 MPa")}},
        {std::regex("E7[01]T-GS"),
         {flux_self_shielded, mild_steel, true, 0.005, true, worded("self-shielded, thin sheet, one pass only")}},
        {std::regex("E7[01]T-11"),
         {flux_self_shielded, mild_steel, true, 0.012, false, worded("self-shielded, all positions")}},
        {std::regex("E7[01]T-8.*"),
         {flux_self_shielded, mild_steel, true, 0, false, worded("self-shielded, tough, several passes")}},
        {std::regex("E7[01]T-[346]"),
         {flux_self_shielded, mild_steel, false, 0, false, worded("self-shielded, electrode positive")}},
        {std::regex("E7[01]T-(1|5|9|12).*"),
         {flux_gas_shielded, mild_steel, false, 0, false, worded("gas-shielded flux-cored, 480 MPa")}},
        {std::regex("ER3[0-4][0-9].*"), {solid, stainless, false, 0, false, worded("solid stainless wire")}},
        {std::regex("(ER|S?AL)[145][0-9]{3}.*"), {solid, aluminium, false, 0, false, worded("solid aluminium wire")}},
    };
    return table;
}

} // namespace

WireClass wire_class(const std::string& classification, WireForm fallback_form) {
    std::string key;
    for (const char letter : classification)
        if (letter != ' ')
            key += static_cast<char>(std::toupper(static_cast<unsigned char>(letter)));
    for (const Row& row : rows())
        if (std::regex_match(key, row.pattern))
            return row.means;
    WireClass unknown;
    unknown.form = fallback_form;
    unknown.electrode_negative = fallback_form == WireForm::flux_self_shielded;
    unknown.meaning = text::worded("not a class this program knows; taken as mild-steel wire");
    return unknown;
}

double wire_area_m2(double diameter_m) { return std::numbers::pi / 4 * diameter_m * diameter_m; }

double density_kg_per_m3(Metal metal) {
    switch (metal) {
    case Metal::mild_steel:
        return 7850; // EN 1993-1-2 cl. 3.2.2
    case Metal::stainless:
        return 7900; // EN 10088-1, from memory
    case Metal::aluminium:
        return 2700; // EN 1999-1-1, from memory
    }
    return 7850;
}

double linear_mass_kg_per_m(double diameter_m, WireForm form, Metal metal) {
    const bool tubular = form != WireForm::solid;
    return wire_area_m2(diameter_m) * density_kg_per_m3(metal) * (tubular ? 0.85 : 1.0);
}

} // namespace holdtrue::material
