#include "reference/case_report.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <sstream>
#include <vector>

namespace holdtrue::reference {
namespace {

struct Printed {
    std::array<double, 3> place, moved;
};

// Straight line through points: value at 0 and slope.
std::array<double, 2> fit(const std::vector<std::array<double, 2>>& points) {
    double n = 0, x = 0, y = 0, xx = 0, xy = 0;
    for (const auto& [a, b] : points)
        n += 1, x += a, y += b, xx += a * a, xy += a * b;
    const double slope = (n * xy - x * y) / (n * xx - x * x);
    return {(y - slope * x) / n, slope};
}

void report(const std::vector<Printed>& nodes) {
    double length = 0, low_y = 1e9, high_y = -1e9, low_z = 1e9, high_z = -1e9;
    for (const Printed& n : nodes) {
        length = std::max(length, n.place[0]);
        low_y = std::min(low_y, n.place[1]), high_y = std::max(high_y, n.place[1]);
        low_z = std::min(low_z, n.place[2]), high_z = std::max(high_z, n.place[2]);
    }
    auto line = [&](double y, double z, int direction) { // movement along x of one line of nodes
        std::vector<std::array<double, 2>> points;
        for (const Printed& n : nodes)
            if (std::abs(n.place[1] - y) < 1e-9 && std::abs(n.place[2] - z) < 1e-9)
                points.push_back({n.place[0], n.moved[direction]});
        return points;
    };
    auto sag = [](const std::vector<std::array<double, 2>>& p) {
        return p.size() < 3 ? 0 : p[p.size() / 2][1] - (p.front()[1] + p.back()[1]) / 2;
    };
    auto stretch = [&](const std::vector<std::array<double, 2>>& p) { // of the middle half
        std::vector<std::array<double, 2>> middle;
        for (const auto& point : p)
            if (point[0] > length / 4 && point[0] < 3 * length / 4)
                middle.push_back(point);
        return middle.size() < 2 ? 0 : fit(middle)[1];
    };
    const auto low = line(low_y, 0, 0), high = line(high_y, 0, 0);
    std::printf("edges at the bottom: stretch %.4g, %.4g; curvature in plane x L^2/8 %.4f mm\n", stretch(low),
                stretch(high), (stretch(high) - stretch(low)) / (high_y - low_y) * length * length / 8 * 1e3);
    if (high_z > 0)
        std::printf("edges at the top: stretch %.4g, %.4g\n", stretch(line(low_y, high_z, 0)),
                    stretch(line(high_y, high_z, 0)));
    // Section at mid-length: slopes of the bottom away from the weld, and how its edges drew in.
    std::vector<std::array<double, 2>> left, right;
    double in_left = 0, in_right = 0;
    for (const Printed& n : nodes)
        if (std::abs(n.place[0] - length / 2) < 1e-9 && n.place[2] == 0) {
            if (n.place[1] < -0.015)
                left.push_back({n.place[1], n.moved[2]});
            if (n.place[1] > 0.015)
                right.push_back({n.place[1], n.moved[2]});
        }
    for (const Printed& n : nodes)
        if (std::abs(n.place[0] - length / 2) < 1e-9 && n.place[1] == high_y && n.place[2] == 0)
            in_right = n.moved[1];
        else if (std::abs(n.place[0] - length / 2) < 1e-9 && n.place[1] == low_y && n.place[2] == 0)
            in_left = n.moved[1];
    if (high_z > 0)
        std::printf("bottom at mid-length: slope left %.5f, right %.5f rad; edges moved %.4f, %.4f mm\n",
                    left.size() > 1 ? fit(left)[1] : 0, right.size() > 1 ? fit(right)[1] : 0, in_left * 1e3,
                    in_right * 1e3);
    for (const double y : {low_y, high_y})
        std::printf("bow of the bottom line at y %.1f mm: in y %.4f, in z %.4f mm\n", y * 1e3, sag(line(y, 0, 1)) * 1e3,
                    sag(line(y, 0, 2)) * 1e3);
    for (const Printed& n : nodes)
        if (n.place[0] == 0 && n.place[2] == high_z && n.place[1] == 0)
            std::printf(
                "lines at y 0, bottom and top: stretch %.4g, %.4g; bow of the top in y %.4f mm; curvature in z x "
                "L^2/8 %.4f mm\n",
                stretch(line(0, 0, 0)), stretch(line(0, high_z, 0)), sag(line(0, high_z, 1)) * 1e3,
                (stretch(line(0, 0, 0)) - stretch(line(0, high_z, 0))) / high_z * length * length / 8 * 1e3);
}

} // namespace

void read_case(const std::string& input, const std::string& results) {
    std::map<int, std::array<double, 3>> place;
    std::ifstream in(input), dat(results);
    std::string line;
    std::getline(in, line);
    char comma;
    int number;
    double x, y, z;
    while (std::getline(in, line) && line[0] != '*') {
        std::istringstream(line) >> number >> comma >> x >> comma >> y >> comma >> z;
        place[number] = {x, y, z};
    }
    std::vector<Printed> nodes;
    auto flush = [&] {
        if (!nodes.empty())
            report(nodes);
        nodes.clear();
    };
    while (std::getline(dat, line)) {
        if (line.find("displacements") != std::string::npos) {
            flush();
            std::printf("-- after step %s\n", line.substr(line.find("time")).c_str());
        }
        std::istringstream words(line);
        if (words >> number >> x >> y >> z)
            nodes.push_back({place.at(number), {x, y, z}});
    }
    flush();
}

} // namespace holdtrue::reference
