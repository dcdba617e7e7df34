#include "arc/process_words.h"
#include "command_line/setup_reader.h"
#include "material/steel_grade.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::command_line {

using arc::Process;
using units::mm;

void SetupReader::read_joint() {
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

void SetupReader::read_details() {
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

void SetupReader::read_surroundings() {
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

void SetupReader::read_settings() {
    const part::JointType type = request_.section.type;
    if (tig() && type != part::JointType::butt && type != part::JointType::edge)
        arguments_.problem("--process 141 on a joint that takes filler: a rod fed by hand is not worked out here",
                           "give a butt or an edge, which are fused, or a process with fed wire");
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

} // namespace holdtrue::command_line
