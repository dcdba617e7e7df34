#include "command_line/setup_request.h"

#include "arc/power_source.h"
#include "arc/process_words.h"
#include "arc/read_shop.h"
#include "command_line/quantity_argument.h"
#include "material/steel_grade.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace holdtrue::command_line {
namespace {

using arc::Process;
using units::mm;
using namespace std::string_literals;

// One of a set of words.
template <class E>
E choice(QuantityArguments& arguments, const std::string& option, const std::string& words,
         std::initializer_list<std::pair<const char*, E>> known) {
    std::vector<std::string> names;
    for (const auto& [name, value] : known) {
        if (words == name)
            return value;
        names.emplace_back(name);
    }
    const std::string near = text::nearest(words, names);
    arguments.problem(option + " \"" + words + "\" is not known",
                      (near.empty() ? "" : "did you mean " + near + "? ") + "It can be "s + text::listed(names));
    return known.begin()->second;
}

units::System system_of(const std::string& words) {
    if (words == "imperial")
        return units::System::imperial;
    if (words == "metric")
        return units::System::metric;
    throw text::InputError("", 0, "--units \"" + words + "\" is not known", "it can be metric or imperial");
}

class Reader {
public:
    Reader(const SetupFlags& flags, units::System system) : flags_(flags), arguments_(system) {
        request_.system = system;
    }

    SetupRequest read() {
        read_process();
        read_shop();
        read_wire();
        read_gas();
        read_joint();
        read_details();
        read_surroundings();
        read_settings();
        arguments_.finish();
        fill_in();
        return std::move(request_);
    }

private:
    const units::Unit& bare(const units::Dimension& dimension) const {
        const bool metric = request_.system == units::System::metric;
        return metric ? dimension.units.front() : units::workshop_unit(dimension, request_.system);
    }
    std::optional<double> quantity(const char* option, const std::string& words, const units::Dimension& dimension,
                                   text::Range range) {
        return arguments_.quantity(option, words, dimension, bare(dimension), range);
    }
    std::optional<double> length(const char* option, const std::string& words, double low_mm, double high_mm) {
        return quantity(option, words, units::length, {low_mm * mm, high_mm * mm});
    }
    void only(bool fits, const char* option, const std::string& words, const char* what_for) {
        if (!words.empty() && !fits)
            arguments_.problem(std::string(option) + " does not go with this joint or process",
                               std::string("leave it out; it is for ") + what_for);
    }

    void read_process();
    void read_shop();
    void read_wire();
    void read_gas();
    void read_joint();
    void read_details();
    void read_surroundings();
    void read_settings();
    void fill_in();
    std::optional<double> from_dial(const char* option, const std::string& words, bool volts);

    const SetupFlags& flags_;
    QuantityArguments arguments_;
    SetupRequest request_;
    bool tig() const { return request_.card.process == Process::tig_141; }
};

void Reader::read_process() {
    request_.card.process = Process::mag_135;
    if (flags_.process.empty())
        return;
    if (const auto process = arc::process_by_number(flags_.process))
        request_.card.process = *process;
    else
        arguments_.problem("--process \"" + flags_.process + "\" is not known",
                           "give an ISO 4063 number: " + text::listed(arc::process_numbers()));
}

void Reader::read_shop() {
    if (!flags_.shop.empty()) {
        request_.shop = *arc::read_shop(flags_.shop);
        request_.shop_given = true;
    }
    if (const auto draught = quantity("--draught", flags_.draught, units::speed, {0, 30}))
        request_.shop.draught_m_per_s = *draught;
    if (const auto shade = arguments_.number("--shade", flags_.shade, {1, 16}))
        request_.shop.helmet_shade = static_cast<int>(std::lround(*shade));
}

const char* usual_class(Process process, material::Metal metal) {
    if (metal == material::Metal::aluminium)
        return "ER5356";
    if (metal == material::Metal::stainless)
        return "ER308LSi";
    switch (process) {
    case Process::fcaw_gas_136:
        return "E71T-1M";
    case Process::fcaw_self_114:
        return "E71T-11";
    default:
        return "ER70S-6";
    }
}

void Reader::read_wire() {
    using material::Metal;
    request_.section.metal = choice<Metal>(
        arguments_, "--metal", flags_.metal,
        {{"mild_steel", Metal::mild_steel}, {"stainless", Metal::stainless}, {"aluminium", Metal::aluminium}});
    arc::SettingCard& card = request_.card;
    std::vector<arc::Wire>& wires = request_.shop.wires;
    if (request_.shop_given && !flags_.wire_class.empty())
        arguments_.problem("--wire-class with --shop", "the shop's wire brings its class; leave one of them out");

    // By the shop's name for it.
    const auto by_id = std::ranges::find(wires, flags_.wire, &arc::Wire::id);
    if (!flags_.wire.empty() && by_id != wires.end()) {
        card.wire = by_id->id;
        if (!flags_.process.empty() && by_id->process != card.process && !tig())
            arguments_.problem("wire " + by_id->id + " is for process " +
                                   std::string(arc::process_number(by_id->process)) + ", not " + flags_.process,
                               "leave --process out, or choose another wire");
        if (flags_.process.empty())
            card.process = by_id->process;
        return;
    }
    if (flags_.wire.empty()) {
        request_.wire_open = true;
        return;
    }
    const bool looks_like_size = std::isdigit(static_cast<unsigned char>(flags_.wire.front())) ||
                                 flags_.wire.front() == '.' || flags_.wire.front() == '-' || !request_.shop_given;
    if (!looks_like_size) {
        std::vector<std::string> ids;
        for (const arc::Wire& wire : wires)
            ids.push_back(wire.id);
        arguments_.problem("the shop has no wire \"" + flags_.wire + "\"", "it has " + text::listed(ids));
        return;
    }
    const auto diameter = length("--wire", flags_.wire, 0.5, 1.7);
    if (!diameter)
        return;
    if (!request_.shop_given) {
        wires.push_back(
            {"wire", flags_.wire_class.empty() ? usual_class(card.process, request_.section.metal) : flags_.wire_class,
             *diameter, card.process});
        card.wire = "wire";
        return;
    }
    const auto near = std::ranges::find_if(wires, [&](const arc::Wire& wire) {
        return std::abs(wire.diameter_m - *diameter) < 0.06 * mm &&
               (flags_.process.empty() || wire.process == card.process);
    });
    if (near == wires.end())
        arguments_.problem("the shop has no wire of " +
                               units::quantity_text(*diameter, units::length, request_.system) + " for this process",
                           "leave --wire out to choose among its wires");
    else {
        card.wire = near->id;
        card.process = near->process;
    }
}

void Reader::read_gas() {
    arc::SettingCard& card = request_.card;
    if (flags_.gas == "none") {
        card.gas.clear();
        return;
    }
    if (flags_.gas.empty()) {
        request_.gas_open = arc::needs_gas(card.process);
        return;
    }
    if (!arc::needs_gas(card.process)) {
        arguments_.problem("--gas with self-shielded wire (114)", "leave --gas out, or choose process 136");
        return;
    }
    const auto by_id = std::ranges::find(request_.shop.gases, flags_.gas, &arc::Gas::id);
    if (by_id != request_.shop.gases.end()) {
        card.gas = by_id->id;
        return;
    }
    try {
        arc::Gas gas;
        static_cast<material::GasMixture&>(gas) = material::parse_gas(flags_.gas);
        if (request_.shop_given) {
            const auto same = std::ranges::find_if(request_.shop.gases, [&](const arc::Gas& other) {
                return std::abs(other.argon - gas.argon) + std::abs(other.co2 - gas.co2) +
                           std::abs(other.oxygen - gas.oxygen) + std::abs(other.helium - gas.helium) <
                       1e-3;
            });
            if (same == request_.shop.gases.end())
                arguments_.problem("the shop has no gas " + material::in_words(gas),
                                   "leave --gas out to choose among its gases");
            else
                card.gas = same->id;
            return;
        }
        gas.id = "gas";
        request_.shop.gases.push_back(gas);
        card.gas = gas.id;
    } catch (const text::InputError& error) {
        arguments_.problems_of(error);
    }
}

void Reader::read_joint() {
    using part::JointType;
    arc::Section& section = request_.section;
    section.type = choice<JointType>(arguments_, "--joint", flags_.joint,
                                     {{"fillet", JointType::fillet},
                                      {"lap", JointType::lap},
                                      {"butt", JointType::butt},
                                      {"corner", JointType::corner},
                                      {"edge", JointType::edge},
                                      {"plug", JointType::plug}});
    const bool plug = section.type == JointType::plug, butt = section.type == JointType::butt;
    section.kind = plug ? part::PassKind::plug : part::PassKind::run;
    if (flags_.t1.empty())
        arguments_.problem("--t1 is missing", "give the thickness of the first member, for example --t1 3");
    section.thickness_a_m = length("--t1", flags_.t1, 0.5, 100).value_or(3 * mm);
    section.thickness_b_m = length("--t2", flags_.t2, 0.5, 100).value_or(section.thickness_a_m);
    section.size_m = length("--size", flags_.size, 1, 60).value_or(0);
    if (plug && flags_.size.empty())
        section.size_m = std::ceil((section.thickness_a_m + 8 * mm) / (2 * mm)) * 2 * mm;
    if (butt && section.size_m > section.thinner_m() + 1e-9)
        arguments_.problem("--size of a butt is deeper than the thinner member",
                           "give the depth to be welded, at most the thickness, or leave it out");
    section.root_gap_m = length("--gap", flags_.gap, 0, 20).value_or(0);

    only(plug, "--plug-spacing", flags_.plug_spacing, "plugs");
    only(plug, "--plug-time", flags_.plug_time, "plugs");
    only(butt, "--angle", flags_.angle, "butts");
    only(butt, "--root-face", flags_.root_face, "butts");
    only(butt, "--backing", flags_.backing ? "yes" : "", "butts");
    only(butt, "--both-sides", flags_.both_sides ? "yes" : "", "butts");
    only(!plug, "--travel", flags_.travel, "runs; a plug is filled in place");
    if (flags_.backing && flags_.both_sides)
        arguments_.problem("--backing with --both-sides", "a bar lies on the side that would be welded; choose one");
    section.plug_spacing_m = length("--plug-spacing", flags_.plug_spacing, 5, 2000);
    request_.card.plug_s = quantity("--plug-time", flags_.plug_time, units::time, {0.2, 120}).value_or(0);
    section.groove_angle_rad =
        arguments_.quantity("--angle", flags_.angle, units::angle, units::angle.units.front(), {0.08727, 2.0944});
    section.root_face_m = length("--root-face", flags_.root_face, 0, 20);
    if (section.root_face_m && !section.groove_angle_rad)
        arguments_.problem("--root-face without --angle", "square edges have none; give --angle for a bevel");
    if (section.root_face_m && *section.root_face_m > section.thinner_m())
        arguments_.problem("--root-face is higher than the thinner member", "give less than its thickness");
    section.backing = flags_.backing;
    section.both_sides = flags_.both_sides;
}

void Reader::read_details() {
    arc::Section& section = request_.section;
    if (!flags_.steel.empty()) {
        section.steel = flags_.steel;
        if (!material::find_steel_grade(flags_.steel)) {
            std::vector<std::string> known;
            for (const material::SteelGrade& grade : material::steel_grades())
                known.push_back(grade.name);
            arguments_.problem("--steel \"" + flags_.steel + "\" is not known", "it can be " + text::listed(known));
        }
        if (section.metal != material::Metal::mild_steel)
            arguments_.problem("--steel with --metal " + flags_.metal,
                               "a grade is for mild steel; leave one of them out");
    }
    const int coated =
        choice<int>(arguments_, "--coated", flags_.coated, {{"none", 0}, {"first", 1}, {"second", 2}, {"both", 3}});
    section.coated_a = coated & 1;
    section.coated_b = coated & 2;
    section.bared_m = length("--bared", flags_.bared, 0, 500);
    if (section.bared_m && coated == 0)
        arguments_.problem("--bared without --coated", "say which member is coated: first, second or both");
    section.length_m = length("--length", flags_.length, 1, 100000).value_or(0);
    section.tack_length_m = length("--tack-length", flags_.tack_length, 1, 500);
    section.tack_spacing_m = length("--tack-spacing", flags_.tack_spacing, 5, 2000);
    if (const auto passes = arguments_.number("--passes", flags_.passes, {1, 99})) {
        if (*passes != std::floor(*passes))
            arguments_.problem("--passes is not a whole number", "give 1, 2, 3 and so on");
        section.passes = static_cast<int>(*passes);
    }
}

void Reader::read_surroundings() {
    arc::SettingCard& card = request_.card;
    arc::Section& section = request_.section;
    section.start_k = quantity("--start", flags_.start, units::temperature, {units::celsius(-60), units::celsius(600)})
                          .value_or(units::celsius(20));
    if (const auto preheat =
            quantity("--preheat", flags_.preheat, units::temperature, {units::celsius(0), units::celsius(400)})) {
        card.preheat_k = *preheat;
        if (*preheat < section.start_k - 1e-9)
            arguments_.problem("--preheat is colder than the work",
                               "the work is at " +
                                   units::quantity_text(section.start_k, units::temperature, request_.system) +
                                   "; leave --preheat out or give more");
    }
    using arc::Polarity;
    using arc::TorchMotion;
    const bool cored = card.process == Process::fcaw_self_114 || card.process == Process::fcaw_gas_136;
    const bool negative = card.process == Process::fcaw_self_114 || tig();
    card.polarity = flags_.polarity.empty() ? (negative ? Polarity::electrode_negative : Polarity::electrode_positive)
                                            : choice<Polarity>(arguments_, "--polarity", flags_.polarity,
                                                               {{"positive", Polarity::electrode_positive},
                                                                {"negative", Polarity::electrode_negative}});
    card.motion = flags_.motion.empty()
                      ? (cored ? TorchMotion::drag : TorchMotion::push)
                      : choice<TorchMotion>(arguments_, "--motion", flags_.motion,
                                            {{"push", TorchMotion::push}, {"drag", TorchMotion::drag}});
    card.aim = arguments_.number("--aim", flags_.aim, {0, 1}).value_or(arc::usual_aim(section));
    card.gas_flow_m3_per_s =
        quantity("--flow", flags_.flow, units::flow, {0, 60 * units::litre_per_minute}).value_or(0);
    if (!flags_.flow.empty() && !arc::needs_gas(card.process))
        arguments_.problem("--flow with self-shielded wire", "leave it out");
}

std::optional<double> Reader::from_dial(const char* option, const std::string& words, bool volts) {
    const auto mark = arguments_.number(option, words, {-1000, 1000});
    if (!mark)
        return std::nullopt;
    const arc::PowerSource* source = request_.shop.sources.empty() ? nullptr : &request_.shop.sources.front();
    const std::optional<arc::Dial>* dial = source ? (volts ? &source->volts_dial : &source->feed_dial) : nullptr;
    if (!dial || !*dial) {
        arguments_.problem(
            std::string(option) + " needs a shop whose dial was measured",
            "give --shop FILE with its points, or the real unit; holdtrue setup --calibration-sheet helps");
        return std::nullopt;
    }
    try {
        return arc::value_at_mark(**dial, *mark);
    } catch (const text::InputError& error) {
        arguments_.problems_of(error);
        return std::nullopt;
    }
}

void Reader::read_settings() {
    arc::SettingCard& card = request_.card;
    const auto either = [&](const char* a, const std::string& a_words, const char* b, const std::string& b_words) {
        if (!a_words.empty() && !b_words.empty())
            arguments_.problem(std::string(a) + " and " + b + " say the same", "give one of them");
    };
    either("--volts", flags_.volts, "--volts-dial", flags_.volts_dial);
    either("--feed", flags_.feed, "--feed-dial", flags_.feed_dial);
    if (!flags_.current.empty() && !tig())
        arguments_.problem("--current with a fed wire", "the wire feed decides the current: give --feed");
    if (tig() && (!flags_.feed.empty() || !flags_.feed_dial.empty()))
        arguments_.problem("--feed with TIG", "give --current; filler is fed by hand");

    std::optional<double> volts = quantity("--volts", flags_.volts, units::voltage, {8, 50});
    if (!flags_.volts_dial.empty())
        volts = from_dial("--volts-dial", flags_.volts_dial, true);
    std::optional<double> feed = quantity("--feed", flags_.feed, units::wire_feed, {0.3 / 60, 30.0 / 60});
    if (!flags_.feed_dial.empty())
        feed = from_dial("--feed-dial", flags_.feed_dial, false);
    const auto travel = quantity("--travel", flags_.travel, units::travel, {0.3 * mm, 50 * mm});
    const auto current = quantity("--current", flags_.current, units::current, {5, 600});
    const auto tip = length("--tip", flags_.tip, 3, 60);

    card.volts_v = volts.value_or(0);
    card.wire_feed_m_per_s = feed.value_or(0);
    card.travel_m_per_s = travel.value_or(0);
    card.current_a = current.value_or(0);
    card.tip_distance_m = tip.value_or(0);
    request_.tip_open = !tip;
    request_.open = {!volts, tig() ? !current : !feed, !travel && request_.section.type != part::JointType::plug};
}

// What stays open gets candidates to choose from: the usual wires and gases where there is no shop.
void Reader::fill_in() {
    using material::Metal;
    arc::SettingCard& card = request_.card;
    const Metal metal = request_.section.metal;
    if (request_.wire_open && !request_.shop_given) {
        std::vector<double> sizes{0.8, 1.0, 1.2};
        if (card.process == Process::mag_135)
            sizes = {0.6, 0.8, 0.9, 1.0, 1.2};
        if (card.process == Process::fcaw_self_114)
            sizes = {0.8, 0.9, 1.2};
        if (tig())
            sizes = {1.6};
        const std::string classification =
            flags_.wire_class.empty() ? usual_class(card.process, metal) : flags_.wire_class;
        for (const double size : sizes)
            request_.shop.wires.push_back(
                {units::number_text(size, 1) + " mm", classification, size * mm, card.process});
    }
    if (request_.gas_open && !request_.shop_given) {
        const auto add = [&](const char* words) {
            arc::Gas gas;
            static_cast<material::GasMixture&>(gas) = material::parse_gas(words);
            gas.id = words;
            request_.shop.gases.push_back(gas);
        };
        if (tig() || metal == Metal::aluminium)
            add("Ar");
        else if (metal == Metal::stainless)
            add("98Ar 2CO2");
        else {
            add("75Ar 25CO2");
            if (card.process == Process::mag_135)
                add("82Ar 18CO2");
        }
    }
}

} // namespace

void add_flags(CLI::App& command, SetupFlags& flags) {
    const auto option = [&](const char* name, std::string& words, const char* help) {
        command.add_option(name, words, help);
    };
    option("--units", flags.units, "metric (mm, mm/s, m/min) or imperial (in, in/min); a value may carry its own unit");
    option("--process", flags.process, "ISO 4063 number: 135 MAG, 131 MIG, 136 and 114 flux-cored, 141 TIG");
    option("--wire", flags.wire, "wire diameter, or its name in the shop; left out: chosen");
    option("--wire-class", flags.wire_class, "for example ER70S-6, E71T-11, ER308LSi, ER5356");
    option("--gas", flags.gas, "for example \"75Ar 25CO2\", CO2, Ar, or its name in the shop; left out: chosen");
    option("--joint", flags.joint, "fillet, lap, butt, corner, edge or plug");
    option("--t1", flags.t1, "thickness of the first member: web, upper sheet, sheet with the hole");
    option("--t2", flags.t2, "thickness of the second member; left out: the same");
    option("--size", flags.size, "leg, throat of a corner, depth of a butt, hole of a plug");
    option("--gap", flags.gap, "root gap");
    option("--volts", flags.volts, "volts; left out: proposed");
    option("--feed", flags.feed, "wire feed, m/min; left out: proposed");
    option("--travel", flags.travel, "travel speed, mm/s; left out: proposed");
    option("--current", flags.current, "current of TIG");
    option("--volts-dial", flags.volts_dial, "mark of the shop's volts dial");
    option("--feed-dial", flags.feed_dial, "mark of the shop's wire feed dial");
    option("--tip", flags.tip, "contact tip to work distance");
    option("--flow", flags.flow, "gas flow, L/min");
    option("--polarity", flags.polarity, "of the electrode: positive or negative");
    option("--motion", flags.motion, "push or drag");
    option("--aim", flags.aim, "share of the arc on the first member, 0 to 1");
    option("--preheat", flags.preheat, "preheat temperature");
    option("--start", flags.start, "temperature of the joint before the pass");
    option("--metal", flags.metal, "mild_steel, stainless or aluminium");
    option("--steel", flags.steel, "grade of mild steel, for preheat: S235, S355, A36 ...");
    option("--coated", flags.coated, "galvanised, primed or painted: none, first, second or both");
    option("--bared", flags.bared, "width that the coating was taken off each side");
    option("--length", flags.length, "length of the weld, for time, gas, wire and cost");
    option("--passes", flags.passes, "number of passes; left out: as the size asks");
    option("--tack-length", flags.tack_length, "length of a tack");
    option("--tack-spacing", flags.tack_spacing, "distance between tacks");
    option("--plug-spacing", flags.plug_spacing, "distance between plug centres");
    option("--plug-time", flags.plug_time, "time the arc burns in a plug");
    option("--angle", flags.angle, "included angle of a V, degrees");
    option("--root-face", flags.root_face, "root face of a V");
    command.add_flag("--backing", flags.backing, "the butt lies on a backing bar");
    command.add_flag("--both-sides", flags.both_sides, "the butt is welded from both sides");
    option("--shade", flags.shade, "shade number of the helmet's filter");
    option("--draught", flags.draught, "air speed at the work, m/s");
    option("--shop", flags.shop, "a .shop.toml: only what is on hand, with dial marks");
    command.add_flag("--json", flags.json, "every figure and finding as JSON, SI units");
    command.add_flag("--all", flags.all, "list passed rules too");
    command.add_flag("--calibration-sheet", flags.calibration_sheet,
                     "print a sheet to fill in: what each dial mark gives");
    option("--out", flags.out, "save the calibration sheet as a page to print (.pdf) instead");
    command.add_option("--paper", flags.paper, "a4 or letter")->check(CLI::IsMember({"a4", "letter"}));
}

SetupRequest read_request(const SetupFlags& flags) { return Reader(flags, system_of(flags.units)).read(); }

} // namespace holdtrue::command_line
