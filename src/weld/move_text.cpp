#include "weld/move_text.h"

namespace holdtrue::weld {

std::string move_text(const part::Part& part, const Move& move, units::System system) {
    return std::visit(OfMove{[&](const WeldPass& weld) {
                                 return part.passes[static_cast<std::size_t>(weld.pass)].name +
                                        (weld.reversed ? ", backwards" : "");
                             },
                             [&](const Wait& wait) {
                                 std::string text = "wait";
                                 if (wait.time_s > 0 || !wait.until_below_k)
                                     text += " at least " + units::duration_text(wait.time_s);
                                 if (wait.until_below_k)
                                     text += std::string(wait.time_s > 0 ? " and" : "") + " until below " +
                                             units::temperature_text(*wait.until_below_k, system);
                                 return text;
                             },
                             [&](const Turn& turn) {
                                 return "turn to '" + part.poses[static_cast<std::size_t>(turn.pose)].name + "'";
                             },
                             [&](const ClampMove& clamp) {
                                 return std::string(clamp.fix ? "fix" : "free") + " clamp '" +
                                        part.clamps[static_cast<std::size_t>(clamp.clamp)].name + "'";
                             }},
                      move.what);
}

} // namespace holdtrue::weld
