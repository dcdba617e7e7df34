#include "arc/setup_change.h"

#include <tuple>

namespace holdtrue::arc {

SetupChange setup_change(const SettingCard& before, const SettingCard& after) {
    const auto wire = [](const SettingCard& card) { return std::tie(card.wire, card.process, card.polarity); };
    const auto dials = [](const SettingCard& card) {
        return std::tie(card.volts_v, card.wire_feed_m_per_s, card.current_a, card.gas_flow_m3_per_s);
    };
    return {
        .wire = wire(before) != wire(after), .gas = before.gas != after.gas, .dials = dials(before) != dials(after)};
}

double time_s(const SetupChange& change, const Shop& shop) {
    return (change.wire ? shop.change_wire_s : 0) + (change.gas ? shop.change_gas_s : 0) +
           (change.dials ? shop.change_dials_s : 0);
}

std::string text_of(const SetupChange& change) {
    std::string text;
    if (change.wire || change.gas)
        text = change.wire && change.gas ? "change wire and gas" : change.wire ? "change the wire" : "change the gas";
    if (change.dials)
        text += text.empty() ? "set the dials" : ", set the dials";
    return text;
}

} // namespace holdtrue::arc
