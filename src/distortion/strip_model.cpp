#include "distortion/strip_model.h"

namespace holdtrue::distortion {

StripModel::StripModel(const StripSection& section, const StripMetal& metal, const HeatSettings& settings,
                       const StripSupport& support, double start_k)
    : heat_(section, metal, settings, start_k), mechanics_(section, metal, support, start_k),
      ambient_k_(settings.ambient_k) {}

void StripModel::weld(const TorchPass& torch) {
    const PassField field = heat_.pass(torch);
    for (const std::vector<double>& temperature_k : field.temperature_k)
        mechanics_.advance(temperature_k);
}

void StripModel::wait(double time_s) {
    while (time_s > 0) {
        time_s -= heat_.cool(time_s);
        mechanics_.advance(heat_.temperature_k());
    }
}

void StripModel::cool_below(double kelvin) {
    const double longest_s = 1e6;
    for (double waited_s = 0; heat_.hottest_k() > kelvin && waited_s < longest_s;) {
        waited_s += heat_.cool(longest_s);
        mechanics_.advance(heat_.temperature_k());
    }
}

void StripModel::cool() {
    while (!heat_.is_even()) {
        heat_.cool(1e6);
        mechanics_.advance(heat_.temperature_k());
    }
    mechanics_.cool_evenly(heat_.hottest_k(), ambient_k_);
    heat_.set_uniform(ambient_k_);
}

} // namespace holdtrue::distortion
