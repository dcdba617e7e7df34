#include "heat/pass_record.h"

#include "heat/weld_section.h"

#include <algorithm>
#include <utility>

namespace holdtrue::heat {
namespace {

constexpr double cooling_frame_growth = 0.15; // of the time since the last arc

} // namespace

struct PassRecord::State {
    WeldHeat& heat;
    std::optional<double> frame_interval_s; // none: no frames
    bool sections;
    std::vector<PassFigures> passes;
    std::vector<TemperatureFrame> frames;
    double last_frame_s = -1, last_arc_s = 0;

    void store(const Moment& moment) {
        const std::vector<double>& t = heat.temperature_k();
        frames.push_back({moment.time_s, moment.arc_on, moment.torch, std::vector<float>(t.begin(), t.end())});
        last_frame_s = moment.time_s;
    }
    void watch(const Moment& moment) {
        if (!frame_interval_s)
            return;
        if (moment.arc_on)
            last_arc_s = moment.time_s;
        const double interval_s =
            moment.arc_on ? *frame_interval_s
                          : std::max(*frame_interval_s, cooling_frame_growth * (moment.time_s - last_arc_s));
        if (last_frame_s < 0 || moment.time_s - last_frame_s >= interval_s)
            store(moment);
    }
    // The state a call ends in is always kept.
    void close(bool arc_on, const part::Point& torch) {
        if (frame_interval_s && last_frame_s != heat.time_s())
            store({heat.time_s(), arc_on, torch});
    }
};

PassRecord::PassRecord(WeldHeat& heat, std::optional<double> frame_interval_s, bool sections)
    : state_(std::make_unique<State>(State{heat, frame_interval_s, sections, {}, {}})) {}
PassRecord::~PassRecord() = default;

const PassFigures& PassRecord::weld(const Arc& arc, std::stop_token stop) {
    State& s = *state_;
    PassFigures figures;
    figures.pass = arc.pass;
    figures.start_s = s.heat.time_s();
    figures.interpass_k = s.heat.hottest_along_k(arc.pass);
    figures.peak_k = s.heat.hottest_k();
    const SectionFigures section = s.sections ? weld_section(s.heat, arc) : SectionFigures{};
    figures.t85_s = section.t85_s;
    figures.width_500_m = section.width_500_m;
    figures.width_800_m = section.width_800_m;
    figures.section_element_m = section.element_m;

    const double brought_before_j = s.heat.energy().brought_j;
    part::Point torch = part::Point::Zero();
    s.heat.weld(
        arc,
        [&](const Moment& moment) {
            figures.peak_k = std::max(figures.peak_k, s.heat.hottest_k());
            torch = moment.torch;
            s.watch(moment);
        },
        stop);
    s.close(true, torch);
    figures.end_s = s.heat.time_s();
    figures.heat_j = s.heat.energy().brought_j - brought_before_j;
    s.passes.push_back(figures);
    return s.passes.back();
}

void PassRecord::wait(double time_s, double until_below_k, std::stop_token stop) {
    State& s = *state_;
    s.heat.wait(
        time_s, until_below_k, [&](const Moment& moment) { s.watch(moment); }, stop);
    s.close(false, part::Point::Zero());
}

const std::vector<PassFigures>& PassRecord::passes() const { return state_->passes; }
std::vector<TemperatureFrame> PassRecord::take_frames() { return std::exchange(state_->frames, {}); }

} // namespace holdtrue::heat
