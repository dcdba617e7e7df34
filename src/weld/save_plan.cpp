#include "weld/save_plan.h"

#include "arc/process_words.h"
#include "text/atomic_file.h"
#include "text/toml_text.h"
#include "units/units.h"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>

namespace holdtrue::weld {
namespace {

using text::in_quotes;

std::string list_of(const std::vector<std::string>& words) {
    std::string text = "[";
    for (const std::string& word : words)
        text += (text.size() > 1 ? ", " : "") + in_quotes(word);
    return text + "]";
}

std::string digits(double value, std::chars_format format, int precision) {
    std::array<char, 400> buffer; // room for the largest double in plain digits
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, format, precision);
    return std::string(buffer.data(), end.ptr);
}

// The shortest number in the unit that gives the SI value back to the last bit.
std::string in_unit(double si, const units::Unit& unit) {
    const double value = unit.from_si(si);
    for (int decimals = 0; decimals <= 12; ++decimals) {
        std::string text = digits(value, std::chars_format::fixed, decimals);
        if (unit.to_si(std::strtod(text.c_str(), nullptr)) == si)
            return text;
    }
    // Rounding on the way out can miss by one step of the last bit.
    for (const double near : {value, std::nextafter(value, -1e300), std::nextafter(value, 1e300)})
        if (unit.to_si(near) == si)
            return digits(near, std::chars_format::general, 17);
    return digits(value, std::chars_format::general, 17);
}

class Writer {
public:
    void heading(std::string_view name) { text_ += "\n[[" + std::string(name) + "]]\n"; }
    void line(std::string_view key, const std::string& value) { text_ += std::string(key) + " = " + value + '\n'; }
    void quantity(std::string_view key, const units::Dimension& dimension, double si) {
        const units::Unit& unit = dimension.units.front();
        line(std::string(key) + '_' + std::string(unit.suffix), in_unit(si, unit));
    }
    std::string take() { return std::move(text_); }

private:
    std::string text_;
};

void write_card(Writer& out, const arc::SettingCard& card) {
    out.heading("card");
    out.line("name", in_quotes(card.name));
    if (!card.groups.empty())
        out.line("groups", list_of(card.groups));
    out.line("process", in_quotes(std::string(arc::process_number(card.process))));
    out.line("wire", in_quotes(card.wire));
    if (!card.gas.empty())
        out.line("gas", in_quotes(card.gas));
    if (card.gas_flow_m3_per_s != 0 || arc::needs_gas(card.process))
        out.quantity("gas_flow", units::flow, card.gas_flow_m3_per_s);
    out.line("polarity",
             card.polarity == arc::Polarity::electrode_positive ? "\"electrode_positive\"" : "\"electrode_negative\"");
    out.quantity("volts", units::voltage, card.volts_v);
    out.quantity("wire_feed", units::wire_feed, card.wire_feed_m_per_s);
    out.line("travel_mm_per_min", in_unit(card.travel_m_per_s, units::travel.units[1]));
    out.quantity("tip_distance", units::length, card.tip_distance_m);
    out.line("motion", card.motion == arc::TorchMotion::push ? "\"push\"" : "\"drag\"");
    out.line("aim", in_unit(card.aim, units::Unit{}));
    if (card.preheat_k != 0)
        out.quantity("preheat", units::temperature, card.preheat_k);
    if (card.plug_s != 0)
        out.quantity("plug", units::time, card.plug_s);
}

// Runs of passes with one card and direction are written together.
std::size_t write_welds(Writer& out, const Plan& plan, const part::Part& part, std::size_t first) {
    const auto& start = std::get<WeldPass>(plan.moves[first].what);
    std::vector<std::string> names;
    std::size_t next = first;
    for (; next < plan.moves.size(); ++next) {
        const auto* weld = std::get_if<WeldPass>(&plan.moves[next].what);
        if (!weld || weld->card != start.card || weld->reversed != start.reversed)
            break;
        names.push_back(part.passes[static_cast<std::size_t>(weld->pass)].name);
    }
    out.heading("move");
    out.line("weld", names.size() == 1 ? in_quotes(names[0]) : list_of(names));
    out.line("card", in_quotes(plan.cards[static_cast<std::size_t>(start.card)].name));
    if (start.reversed)
        out.line("reverse", "true");
    return next;
}

void write_wait(Writer& out, const Wait& wait) {
    out.heading("move");
    if (wait.time_s != 0 || !wait.until_below_k)
        out.quantity("wait", units::time, wait.time_s);
    if (wait.until_below_k)
        out.quantity("wait_until_below", units::temperature, *wait.until_below_k);
}

} // namespace

std::string plan_toml(const Plan& plan, const part::Part& part) {
    Writer out;
    out.line("title", in_quotes(plan.title));
    if (!plan.trainee.empty())
        out.line("trainee", in_quotes(plan.trainee));
    if (!plan.exercise.empty())
        out.line("exercise", in_quotes(plan.exercise));
    if (plan.variant)
        out.line("variant", std::to_string(*plan.variant));
    if (plan.hints > 0)
        out.line("hints", std::to_string(plan.hints));
    for (const arc::SettingCard& card : plan.cards)
        write_card(out, card);
    for (std::size_t k = 0; k < plan.moves.size();) {
        if (std::holds_alternative<WeldPass>(plan.moves[k].what)) {
            k = write_welds(out, plan, part, k);
            continue;
        }
        if (const auto* wait = std::get_if<Wait>(&plan.moves[k].what))
            write_wait(out, *wait);
        else {
            out.heading("move");
            if (const auto* turn = std::get_if<Turn>(&plan.moves[k].what))
                out.line("turn", in_quotes(part.poses[static_cast<std::size_t>(turn->pose)].name));
            else {
                const auto& clamp = std::get<ClampMove>(plan.moves[k].what);
                out.line(clamp.fix ? "fix" : "free",
                         in_quotes(part.clamps[static_cast<std::size_t>(clamp.clamp)].name));
            }
        }
        ++k;
    }
    for (const Prediction& prediction : plan.predictions) {
        out.heading("predict");
        out.line("gauge", in_quotes(part.gauges[static_cast<std::size_t>(prediction.gauge)].name));
        constexpr std::array<std::string_view, 3> senses{"shrinks", "stays", "grows"};
        out.line("sense", in_quotes(std::string(senses[static_cast<std::size_t>(prediction.sense)])));
    }
    return out.take();
}

void save_plan(const Plan& plan, const part::Part& part, const std::filesystem::path& path) {
    text::write_atomically(path, plan_toml(plan, part));
}

} // namespace holdtrue::weld
