#include "material/shielding_gas.h"

#include "text/input_error.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdio>
#include <utility>
#include <vector>

namespace holdtrue::material {
namespace {

constexpr double hair = 1e-4; // of share

bool none(double share) { return share < hair; }
// low < share <= high
bool over(double share, double low, double high) { return share > low + hair && share <= high + hair; }
// low <= share <= high
bool from(double share, double low, double high) { return share >= low - hair && share <= high + hair; }

struct Component {
    const char* name;
    double GasMixture::*share;
};
constexpr std::array<Component, 5> components{{{"Ar", &GasMixture::argon},
                                               {"He", &GasMixture::helium},
                                               {"CO2", &GasMixture::co2},
                                               {"O2", &GasMixture::oxygen},
                                               {"H2", &GasMixture::hydrogen}}};

// Common fillings behind a bare group name. common practice, no source
const std::vector<std::pair<std::string, GasMixture>>& usual_fillings() {
    static const std::vector<std::pair<std::string, GasMixture>> fillings{
        {"I1", {1, 0, 0, 0, 0}},           {"I2", {0, 1, 0, 0, 0}},        {"I3", {0.7, 0.3, 0, 0, 0}},
        {"M12", {0.98, 0, 0.02, 0, 0}},    {"M13", {0.98, 0, 0, 0.02, 0}}, {"M14", {0.93, 0, 0.05, 0.02, 0}},
        {"M20", {0.92, 0, 0.08, 0, 0}},    {"M21", {0.82, 0, 0.18, 0, 0}}, {"M22", {0.95, 0, 0, 0.05, 0}},
        {"M24", {0.86, 0, 0.12, 0.02, 0}}, {"M31", {0.5, 0, 0.5, 0, 0}},   {"C1", {0, 0, 1, 0, 0}},
    };
    return fillings;
}

std::string upper(std::string text) {
    for (char& letter : text)
        letter = static_cast<char>(std::toupper(static_cast<unsigned char>(letter)));
    return text;
}

[[noreturn]] void refuse(const std::string& words, const text::Told& why) {
    throw text::InputError(
        "", 0, {text::worded("gas \"{0}\" {1}"), {words, why}},
        text::worded(
            "write it like \"75Ar 25CO2\", \"CO2\" or \"Ar\", in percent that sum to 100, of Ar, He, CO2, O2 and H2"));
}

} // namespace

std::string iso_14175_group(const GasMixture& gas) {
    const double co2 = gas.co2, o2 = gas.oxygen, h2 = gas.hydrogen;
    if (none(co2) && none(o2) && none(h2)) {
        if (none(gas.helium))
            return "I1";
        if (none(gas.argon))
            return "I2";
        return from(gas.helium, 0.005, 0.95) ? "I3" : "";
    }
    if (none(gas.inert()) && none(h2)) {
        if (none(o2))
            return "C1";
        return from(o2, 0.005, 0.30) ? "C2" : "";
    }
    // In the M groups helium may replace argon, which must remain the balance.
    if (none(gas.argon))
        return "";
    if (!none(h2))
        return from(h2, 0.005, 0.05) && from(co2, 0.005, 0.05) && none(o2) ? "M11" : "";

    struct Row {
        const char* name;
        bool matches;
    };
    const bool c_low = from(co2, 0.005, 0.05), c_5_15 = over(co2, 0.05, 0.15), c_15_25 = over(co2, 0.15, 0.25),
               c_25_50 = over(co2, 0.25, 0.50);
    const bool o_low = from(o2, 0.005, 0.03), o_3_10 = over(o2, 0.03, 0.10), o_10_15 = over(o2, 0.10, 0.15);
    const std::array<Row, 15> rows{{{"M12", c_low && none(o2)},
                                    {"M13", none(co2) && o_low},
                                    {"M14", c_low && o_low},
                                    {"M20", c_5_15 && none(o2)},
                                    {"M21", c_15_25 && none(o2)},
                                    {"M22", none(co2) && o_3_10},
                                    {"M23", c_low && o_3_10},
                                    {"M24", c_5_15 && o_low},
                                    {"M25", c_5_15 && o_3_10},
                                    {"M26", c_15_25 && o_low},
                                    {"M27", c_15_25 && o_3_10},
                                    {"M31", c_25_50 && none(o2)},
                                    {"M32", none(co2) && o_10_15},
                                    {"M33", c_25_50 && over(o2, 0.02, 0.10)},
                                    {"", true}}};
    return std::ranges::find_if(rows, &Row::matches)->name;
}

std::string in_words(const GasMixture& gas) {
    std::vector<Component> present;
    for (const Component& component : components)
        if (gas.*component.share > 0)
            present.push_back(component);
    std::ranges::stable_sort(present,
                             [&](const Component& a, const Component& b) { return gas.*a.share > gas.*b.share; });
    std::string words;
    for (const Component& component : present) {
        char one[40];
        std::snprintf(one, sizeof one, "%s%.3g %% %s", words.empty() ? "" : ", ", 100 * (gas.*component.share),
                      component.name);
        words += one;
    }
    return words;
}

GasMixture parse_gas(const std::string& words) {
    const std::string text = upper(words);
    for (const auto& [name, filling] : usual_fillings())
        if (text == name)
            return filling;

    GasMixture gas;
    double sum = 0;
    std::vector<const Component*> named, unstated; // "CO2" alone is pure, "75Ar CO2" is the rest
    std::size_t at = 0;
    const auto skip = [&] {
        while (at < text.size() && std::string(" /+,%-").find(text[at]) != std::string::npos)
            ++at;
    };
    for (skip(); at < text.size(); skip()) {
        double percent = -1;
        if (std::isdigit(static_cast<unsigned char>(text[at])) || text[at] == '.') {
            std::size_t used = 0;
            try {
                percent = std::stod(text.substr(at, 12), &used);
            } catch (const std::exception&) {
                refuse(words, text::worded("has a share that is no number"));
            }
            at += used;
            skip();
        }
        const Component* found = nullptr;
        for (const Component& component : components) {
            const std::string name = upper(component.name);
            if (text.compare(at, name.size(), name) == 0)
                found = &component;
        }
        if (!found)
            refuse(words, at < text.size()
                              ? text::Told(text::worded("names an unknown gas at \"{0}\""), {words.substr(at)})
                              : text::Told(text::worded("ends in a number")));
        at += std::string(found->name).size();
        if (std::ranges::find(named, found) != named.end())
            refuse(words, {text::worded("names {0} twice"), {std::string(found->name)}});
        named.push_back(found);
        if (percent < 0)
            unstated.push_back(found);
        else {
            gas.*(found->share) = percent / 100;
            sum += percent;
        }
    }
    if (named.empty())
        refuse(words, text::worded("names no gas"));
    if (unstated.size() == 1 && sum < 100) {
        gas.*(unstated[0]->share) = 1 - sum / 100;
        sum = 100;
    } else if (!unstated.empty())
        refuse(words, text::worded("leaves out a share"));
    if (!(std::abs(sum - 100) <= 0.1))
        refuse(words,
               {text::worded("sums to {0} %"), {std::to_string(static_cast<int>(std::lround(std::min(sum, 9999.0))))}});
    return gas;
}

} // namespace holdtrue::material
