#include "weld/job_step.h"

namespace holdtrue::weld {

heat::Arc arc_of(const WeldPass& weld, const arc::SettingCard& card, const arc::ArcFigures& figures) {
    heat::Arc arc;
    arc.pass = weld.pass;
    arc.reversed = weld.reversed;
    arc.net_power_w = figures.net_power_w;
    arc.travel_m_per_s = card.travel_m_per_s;
    arc.plug_s = card.plug_s > 0 ? card.plug_s : figures.fill_s;
    arc.sigma_m = figures.source_sigma_m;
    arc.share_a = card.aim;
    arc.throat_m = figures.throat_m;
    return arc;
}

distortion::Step step_of(const WeldPass& weld, const arc::SettingCard& card, const arc::ArcFigures& figures,
                         double heat_j, double arc_s, double interpass_k) {
    distortion::Step step;
    step.kind = distortion::Step::Kind::weld;
    step.pass = weld.pass;
    step.reversed = weld.reversed;
    step.heat_input_j_per_m = figures.heat_input_j_per_m;
    step.heat_j = heat_j;
    step.arc_s = arc_s;
    step.travel_m_per_s = card.travel_m_per_s;
    step.throat_m = figures.throat_m;
    step.deposit_area_m2 = figures.deposit_area_m2;
    step.interpass_k = interpass_k;
    return step;
}

} // namespace holdtrue::weld
