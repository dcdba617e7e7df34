#include "lesson/model.h"

#include "lesson/model_groups.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace holdtrue::lesson {
namespace {

template <class Keyed>
int index_of(const std::vector<Keyed>& all, std::string_view key) {
    const auto at = std::ranges::find(all, key, &Keyed::key);
    return at == all.end() ? -1 : static_cast<int>(at - all.begin());
}

} // namespace

int Model::input(std::string_view key) const { return index_of(inputs, key); }
int Model::output(std::string_view key) const { return index_of(outputs, key); }

std::vector<double> Model::usual() const {
    std::vector<double> values;
    for (const Input& input : inputs)
        values.push_back(input.usual);
    return values;
}

const std::vector<Model>& models() {
    static const std::vector<Model> all = [] {
        std::vector<Model> found;
        for (auto* group : {safety_models, arc_models, heat_models, pull_models, bench_models})
            std::ranges::move(group(), std::back_inserter(found));
        return found;
    }();
    return all;
}

const Model* find_model(std::string_view name) {
    const auto at = std::ranges::find(models(), name, &Model::name);
    return at == models().end() ? nullptr : &*at;
}

std::string number_text(double value) {
    char text[48];
    const double size = std::abs(value);
    const int before = size > 0 ? static_cast<int>(std::floor(std::log10(size))) : 0; // the power of its first figure
    if (before < -5)
        std::snprintf(text, sizeof text, "%.2g", value);
    else
        std::snprintf(text, sizeof text, "%.*f", std::clamp(2 - before, 0, 7), value);
    std::string result = text;
    if (result.find('.') != std::string::npos && result.find('e') == std::string::npos) {
        result.erase(result.find_last_not_of('0') + 1);
        if (result.back() == '.')
            result.pop_back();
    }
    return result;
}

std::string with_unit(double si, const units::Dimension& dimension, int unit) {
    const units::Unit& chosen = dimension.units[unit];
    std::string text = number_text(chosen.from_si(si));
    if (!chosen.label.empty())
        text += (chosen.label == "°" || chosen.label == "%" ? "" : " ") + std::string(chosen.label);
    return text;
}

} // namespace holdtrue::lesson
