#include "material/filler_wire.h"
#include "material/gas_words.h"
#include "material/shielding_gas.h"
#include "text/input_error.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using material::GasMixture;
using material::iso_14175_group;
using material::parse_gas;

TEST_CASE("ISO 14175 groups at the edges of their bins") { // ISO 14175:2008 table 2, from memory
    for (const auto& [words, group] : {std::pair{"Ar", "I1"},     {"He", "I2"},
                                       {"70Ar 30He", "I3"},       {"5Ar 95He", "I3"},
                                       {"75Ar 25CO2", "M21"}, // 25 is inside
                                       {"74.9Ar 25.1CO2", "M31"}, {"80Ar 20CO2", "M21"},
                                       {"82Ar 18CO2", "M21"},     {"85Ar 15CO2", "M20"}, // 15 is the end of M20
                                       {"84.9Ar 15.1CO2", "M21"}, {"92Ar 8CO2", "M20"},
                                       {"95Ar 5CO2", "M12"},      {"94.9Ar 5.1CO2", "M20"},
                                       {"99.5Ar 0.5CO2", "M12"},  {"98Ar 2O2", "M13"},
                                       {"97Ar 3O2", "M13"},       {"96.9Ar 3.1O2", "M22"},
                                       {"98Ar 2CO2", "M12"},      {"95Ar 5O2", "M22"},
                                       {"90Ar 10O2", "M22"},      {"89Ar 11O2", "M32"},
                                       {"85Ar 15O2", "M32"},      {"50Ar 50CO2", "M31"},
                                       {"93Ar 5CO2 2O2", "M14"}, // 5 is inside
                                       {"90Ar 5CO2 5O2", "M23"},  {"86Ar 12CO2 2O2", "M24"},
                                       {"80Ar 15CO2 5O2", "M25"}, {"73Ar 25CO2 2O2", "M26"},
                                       {"70Ar 25CO2 5O2", "M27"}, {"60Ar 35CO2 5O2", "M33"},
                                       {"96Ar 2CO2 2H2", "M11"},  {"CO2", "C1"},
                                       {"99.5CO2 0.5O2", "C2"},   {"70CO2 30O2", "C2"},
                                       {"40Ar 60CO2", ""},        {"95Ar 5H2", ""}}) { // group R, not covered
        CAPTURE(words);
        CHECK(iso_14175_group(parse_gas(words)) == group);
    }
}

TEST_CASE("a gas can be written several ways") {
    for (const char* words : {"75Ar 25CO2", "75Ar/25CO2", "75% Ar + 25% CO2", "75Ar25CO2", "25co2 75ar", "CO2 75Ar"}) {
        CAPTURE(words);
        const GasMixture gas = parse_gas(words);
        CHECK(gas.argon == doctest::Approx(0.75));
        CHECK(gas.co2 == doctest::Approx(0.25));
        CHECK(material::in_words(gas) == "75 % Ar, 25 % CO2");
    }
    CHECK(material::with_group(parse_gas("75Ar 25CO2")) == "75 % Ar, 25 % CO2 (ISO 14175 M21)");
    CHECK(material::with_group(parse_gas("40Ar 60CO2")) == "60 % CO2, 40 % Ar");
    CHECK(iso_14175_group(parse_gas("M21")) == "M21");
    CHECK(iso_14175_group(parse_gas("C1")) == "C1");
}

TEST_CASE("a gas that cannot be is met with one line") {
    for (const char* words : {"", "75Ar", "75Ar 30CO2", "75Xe 25CO2", "75Ar 25", "75Ar 20Ar 5CO2", "Ar CO2", "nan",
                              "1e400Ar", "-5Ar 105CO2", "..Ar"}) {
        CAPTURE(words);
        try {
            parse_gas(words);
            FAIL("accepted");
        } catch (const text::InputError& error) {
            CHECK(std::string(error.what()).find('\n') == std::string::npos);
        }
    }
}

TEST_CASE("wire classes") { // AWS A5.18, A5.20, A5.9, A5.10, ISO 14341-A, from memory
    using namespace material;
    CHECK(wire_class("ER70S-6").form == WireForm::solid);
    CHECK(wire_class("G 42 4 M21 3Si1").metal == Metal::mild_steel);
    CHECK(wire_class("E71T-1C").form == WireForm::flux_gas_shielded);
    CHECK_FALSE(wire_class("E71T-1C").electrode_negative);
    CHECK(wire_class("E71T-11").electrode_negative);
    CHECK(wire_class("E71T-11").form == WireForm::flux_self_shielded);
    CHECK(wire_class("E71T-GS").single_pass_only);
    CHECK_FALSE(wire_class("E70T-4").electrode_negative);
    CHECK(wire_class("ER308LSi").metal == Metal::stainless);
    CHECK(wire_class("ER5356").metal == Metal::aluminium);
    CHECK(wire_class("Z99").meaning.english().find("not a class") != std::string::npos);
    // Arithmetic with 7850 kg/m^3: 0.8 mm 3.946 g/m, 1.2 mm 8.878 g/m
    CHECK(linear_mass_kg_per_m(0.8e-3, WireForm::solid, Metal::mild_steel) ==
          doctest::Approx(3.946e-3).epsilon(0.0005));
    CHECK(linear_mass_kg_per_m(1.2e-3, WireForm::solid, Metal::mild_steel) ==
          doctest::Approx(8.878e-3).epsilon(0.0005));
}
