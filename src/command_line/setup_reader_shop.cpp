#include "arc/power_source.h"
#include "arc/process_words.h"
#include "arc/read_shop.h"
#include "command_line/setup_reader.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::command_line {

using arc::Process;
using units::mm;

void SetupReader::read_process() {
    request_.card.process = Process::mag_135;
    if (flags_.process.empty())
        return;
    if (const auto process = arc::process_by_number(flags_.process))
        request_.card.process = *process;
    else
        arguments_.problem("--process \"" + flags_.process + "\" is not known",
                           "give an ISO 4063 number: " + text::listed(arc::process_numbers()));
}

void SetupReader::read_shop() {
    if (!flags_.shop.empty()) {
        request_.shop = *arc::read_shop(flags_.shop);
        request_.shop_given = true;
    }
    if (const auto draught = quantity("--draught", flags_.draught, units::speed, {0, 30}))
        request_.shop.draught_m_per_s = *draught;
    if (const auto shade = arguments_.number("--shade", flags_.shade, {1, 16}))
        request_.shop.helmet_shade = static_cast<int>(std::lround(*shade));
}

namespace {

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

} // namespace

void SetupReader::read_wire() {
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

void SetupReader::read_gas() {
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

std::optional<double> SetupReader::from_dial(const char* option, const std::string& words, bool volts) {
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

// What stays open gets candidates to choose from: the usual wires and gases where there is no shop.
void SetupReader::fill_in() {
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

} // namespace holdtrue::command_line
