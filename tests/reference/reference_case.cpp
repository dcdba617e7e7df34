// Writes and reads cases for CalculiX (ccx, a general-purpose finite-element code) against which the local models are
// held: bodies of bricks under a moving arc, thermo-elastic-plastic, steel of EN 1993-1-2. They have what the strip
// model leaves out: stress across the weld, shear lag, ends, a torch that is at one place only. Temperatures are found
// here (brick_grid.h) and handed over, one step of ccx for each.
//   reference_case write KEY=VALUE... > case.inp     ccx case     reference_case read case.inp case.dat
// Keys, SI units:
//   body    bar: flat, plane stress, welds along the edges y = 0 (a) and y = width (b)
//           plate: half of a plate, mirrored at y = 0, one bead on its upper face along the mirror line (a)
//           tee: flange (width) with a web (height) on its middle, fused to it; welds in the corners at -y (a), +y (b)
//           box: half of a hollow box (width x height outside), mirrored at y = 0, where the seams run along the middle
//           of the bottom (a) and of the top (b)
//   welds   the order, with a wait between: a, b, ab, ba; a+b: both at once; with pieces=2: a1,b1,a2,b2 and the like
//   length, width, thickness, height, web (its thickness), yield, heat (of each weld, net), travel, sigma,
//   curve (effective or proof), wait (between welds), columns (bricks along the length), layers (through the
//   thickness), pieces (into which each weld is cut), start (temperature of the whole body when the first arc strikes)
#include "distortion/strip_section.h"
#include "material/steel.h"
#include "reference/brick_grid.h"
#include "reference/case_report.h"
#include "units/units.h"

#include <cmath>
#include <cstdio>
#include <map>
#include <stdexcept>
#include <string>

namespace {

using namespace holdtrue;
using reference::BrickGrid;

constexpr double ambient_k = 293.15;

struct Case {
    std::map<std::string, std::string> words{
        {"body", "bar"},    {"welds", "a"},         {"length", "0.5"},  {"width", "0.08"},  {"thickness", "0.003"},
        {"height", "0.04"}, {"web", "0.005"},       {"yield", "275e6"}, {"heat", "150e3"},  {"travel", "0.006"},
        {"sigma", "0.004"}, {"curve", "effective"}, {"wait", "0"},      {"columns", "125"}, {"layers", "3"},
        {"growth", "0.2"},  {"finest", "0.0016"},   {"frame", "0.5"},   {"pieces", "1"},    {"start", "293.15"}};
    const std::string& word(const std::string& key) const { return words.at(key); }
    double number(const std::string& key) const { return std::stod(words.at(key)); }
};

std::vector<double> even(double from, double to, int parts) {
    std::vector<double> lines;
    for (int k = 0; k <= parts; ++k)
        lines.push_back(from + (to - from) * k / parts);
    return lines;
}

// Lines across, finest at the welds.
std::vector<double> graded(const Case& of, double from, double to, const std::vector<double>& fine_at) {
    std::vector<double> shifted;
    for (const double at : fine_at)
        shifted.push_back(at - from);
    std::vector<double> lines{from};
    for (const auto& strip :
         distortion::plate_section(to - from, 1, 1, shifted, {of.number("finest"), of.number("growth")}).strips)
        lines.push_back(lines.back() + strip.width_m);
    lines.back() = to;
    return lines;
}

BrickGrid build(const Case& of) {
    BrickGrid grid;
    const double width = of.number("width"), thickness = of.number("thickness");
    const int layers = static_cast<int>(of.number("layers"));
    grid.x_m = even(0, of.number("length"), static_cast<int>(of.number("columns")));
    if (of.word("body") == "bar") {
        grid.y_m = graded(of, 0, width, {0, width});
        grid.z_m = {0, thickness};
        grid.flat = true;
    } else if (of.word("body") == "plate") {
        grid.y_m = graded(of, 0, width / 2, {0});
        grid.z_m = even(0, thickness, layers);
        grid.mirrored = true;
    } else if (of.word("body") == "box") {
        const double height = of.number("height");
        grid.y_m = graded(of, 0, width / 2 - thickness, {0});
        grid.y_m.push_back(width / 2);
        grid.z_m = even(0, thickness, layers);
        const std::vector<double> wall = even(thickness, height - thickness, 6),
                                  top = even(height - thickness, height, layers);
        grid.z_m.insert(grid.z_m.end(), wall.begin() + 1, wall.end());
        grid.z_m.insert(grid.z_m.end(), top.begin() + 1, top.end());
        grid.mirrored = true;
    } else {
        const double half = of.number("web") / 2;
        grid.y_m = graded(of, -width / 2, -half, {-half});
        const std::vector<double> right = graded(of, half, width / 2, {half});
        grid.y_m.push_back(0);
        grid.y_m.insert(grid.y_m.end(), right.begin(), right.end());
        grid.z_m = even(0, thickness, layers);
        const std::vector<double> web = graded(of, thickness, thickness + of.number("height"), {thickness});
        grid.z_m.insert(grid.z_m.end(), web.begin() + 1, web.end());
    }
    grid.solid.assign(grid.y_m.size() - 1, std::vector<bool>(grid.z_m.size() - 1, true));
    for (std::size_t j = 0; j + 1 < grid.y_m.size(); ++j)
        for (std::size_t k = 0; k + 1 < grid.z_m.size(); ++k) {
            const double y = (grid.y_m[j] + grid.y_m[j + 1]) / 2, z = (grid.z_m[k] + grid.z_m[k + 1]) / 2;
            if (of.word("body") == "tee")
                grid.solid[j][k] = z < thickness || std::abs(y) < of.number("web") / 2;
            if (of.word("body") == "box")
                grid.solid[j][k] = z < thickness || z > of.number("height") - thickness || y > width / 2 - thickness;
        }
    return grid;
}

reference::MovingArc arc_of(const Case& of, char weld) {
    reference::MovingArc arc{of.number("heat"), of.number("travel"), of.number("sigma"), 0, of.number("thickness")};
    if (of.word("body") == "bar")
        arc.y_m = weld == 'a' ? 0 : of.number("width");
    if (of.word("body") == "plate" || of.word("body") == "box")
        arc.heat_j_per_m /= 2;
    if (of.word("body") == "box")
        arc.z_m = weld == 'a' ? of.number("thickness") / 2 : of.number("height") - of.number("thickness") / 2;
    if (of.word("body") == "tee")
        arc.y_m = (weld == 'a' ? -0.5 : 0.5) * of.number("web");
    return arc;
}

// Arcs that burn side by side along one piece of the length.
struct Burn {
    std::vector<reference::MovingArc> arcs;
    double from_m, to_m;
};

std::vector<Burn> burns_of(const Case& of) {
    const double piece_m = of.number("length") / of.number("pieces");
    std::vector<Burn> burns;
    bool joins = false; // the arc read next burns beside the last
    for (const char c : of.word("welds")) {
        if (c == '+')
            joins = true;
        else if (c >= '1' && c <= '9') {
            burns.back().from_m = piece_m * (c - '1');
            burns.back().to_m = burns.back().from_m + piece_m;
        } else if (c == 'a' || c == 'b') {
            if (!joins)
                burns.push_back({{}, 0, piece_m});
            burns.back().arcs.push_back(arc_of(of, c));
            joins = false;
        }
    }
    return burns;
}

void write_material(const Case& of) {
    using namespace material;
    const double least = 0.005; // of stiffness and strength: metal that carries nothing would leave singular rows
    std::printf("*MATERIAL,NAME=STEEL\n*ELASTIC\n");
    const auto points = {20, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100, 1200, 5000};
    for (const int c : points)
        std::printf("%g,0.3,%g\n", steel_modulus_20c_pa * std::max(least, steel_modulus_factor(units::celsius(c))),
                    units::celsius(c));
    std::printf("*PLASTIC\n");
    for (const int c : points) {
        const double t = units::celsius(c);
        const double factor = of.word("curve") == "proof" ? steel_proof_factor(t) : steel_yield_factor(t);
        const double yield = of.number("yield") * std::max(least, factor);
        std::printf("%g,0,%g\n%g,1,%g\n", yield, t, yield * 1.001, t);
    }
    std::printf("*EXPANSION,ZERO=%g\n", ambient_k);
    for (int c = 40; c <= 5000; c += c < 1600 ? 20 : 200)
        std::printf("%.8g,%g\n", steel_elongation(units::celsius(c)) / (units::celsius(c) - ambient_k),
                    units::celsius(c));
}

void write_set(const char* name, const std::vector<int>& nodes) {
    std::printf("*NSET,NSET=%s\n", name);
    for (const int node : nodes)
        std::printf("%d\n", node);
}

void write_body(const Case& of, const BrickGrid& grid) {
    const std::size_t nx = grid.x_m.size(), ny = grid.y_m.size(), nz = grid.z_m.size();
    const bool flat = of.word("body") == "bar";
    std::vector<int> all, printed, bottom, mirror;
    std::printf("*NODE\n");
    for (std::size_t k = 0; k < nz; ++k)
        for (std::size_t j = 0; j < ny; ++j)
            for (std::size_t i = 0; i < nx; ++i) {
                if (!grid.has_node(j, k))
                    continue;
                const int node = grid.node(i, j, k);
                std::printf("%d,%.9g,%.9g,%.9g\n", node, grid.x_m[i], grid.y_m[j], grid.z_m[k]);
                all.push_back(node);
                if (k == 0)
                    bottom.push_back(node);
                if (j == 0)
                    mirror.push_back(node);
                // The section at mid-length, and along the body the outermost lines of the section.
                if (i == nx / 2 || (k == 0 && (j == 0 || j + 1 == ny || j == ny / 2)) || k + 1 == nz)
                    printed.push_back(node);
            }
    std::printf("*ELEMENT,TYPE=%s,ELSET=BODY\n", flat ? "C3D8" : "C3D8I");
    int element = 0;
    for (std::size_t k = 0; k + 1 < nz; ++k)
        for (std::size_t j = 0; j + 1 < ny; ++j)
            for (std::size_t i = 0; i + 1 < nx; ++i)
                if (grid.is_solid(j, k)) {
                    std::printf("%d", ++element);
                    for (const auto& [a, b, c] : {std::array{0, 0, 0},
                                                  {1, 0, 0},
                                                  {1, 1, 0},
                                                  {0, 1, 0},
                                                  {0, 0, 1},
                                                  {1, 0, 1},
                                                  {1, 1, 1},
                                                  {0, 1, 1}})
                        std::printf(",%d", grid.node(i + a, j + b, k + c));
                    std::printf("\n");
                }
    write_material(of);
    std::printf("*SOLID SECTION,ELSET=BODY,MATERIAL=STEEL\n");
    write_set("ALL", all);
    write_set("PRINTED", printed);
    std::printf("*INITIAL CONDITIONS,TYPE=TEMPERATURE\nALL,%g\n*BOUNDARY\n", ambient_k);
    const std::size_t middle = ny / 2;
    if (flat) {
        write_set("BOTTOM", bottom);
        std::printf("*BOUNDARY\nBOTTOM,3,3\n%d,1,2\n%d,2,2\n", grid.node(0, middle, 0), grid.node(nx - 1, middle, 0));
    } else if (grid.mirrored) {
        write_set("MIRROR", mirror);
        std::printf("*BOUNDARY\nMIRROR,2,2\n%d,1,1\n%d,3,3\n%d,3,3\n", grid.node(0, 0, 0), grid.node(0, 0, 0),
                    grid.node(nx - 1, 0, 0));
    } else {
        std::printf("*BOUNDARY\n%d,1,3\n%d,2,3\n%d,2,2\n", grid.node(0, middle, 0), grid.node(nx - 1, middle, 0),
                    grid.node(0, middle, nz - 1));
    }
}

void write(const Case& of) {
    const BrickGrid grid = build(of);
    write_body(of, grid);
    reference::BrickHeat heat(grid, ambient_k);
    auto step = [&](bool print) { // brings the nodes to the temperatures reached
        std::printf("*STEP,INC=1000\n*STATIC\n1,1,1e-6\n*TEMPERATURE\n");
        for (std::size_t k = 0; k < grid.z_m.size(); ++k)
            for (std::size_t j = 0; j < grid.y_m.size(); ++j)
                for (std::size_t i = 0; i < grid.x_m.size(); ++i)
                    if (grid.has_node(j, k))
                        std::printf("%d,%.7g\n", grid.node(i, j, k), heat.temperature_k(grid.node(i, j, k)));
        std::printf("*NODE PRINT,NSET=PRINTED,FREQUENCY=%d\nU\n*END STEP\n", print ? 1000 : 0);
    };
    auto cool = [&](double time_s, bool to_ambient) {
        const double frame = of.number("frame"), even_k = 4;
        for (double gone = 0, dt = frame; gone < time_s && heat.hottest_k() - heat.coldest_k() > even_k; dt *= 1.12) {
            const double now = std::min(dt, time_s - gone);
            heat.advance(now, {}, 0);
            gone += now;
            step(false);
        }
        if (to_ambient) {
            heat.set_uniform(ambient_k);
            step(true);
        }
    };
    const std::vector<Burn> burns = burns_of(of);
    if (of.number("start") != ambient_k) {
        heat.set_uniform(of.number("start"));
        step(true);
    }
    for (std::size_t w = 0; w < burns.size(); ++w) {
        const Burn& burn = burns[w];
        const double arc_s = (burn.to_m - burn.from_m) / burn.arcs[0].travel_m_per_s;
        const int frames = static_cast<int>(std::ceil(arc_s / of.number("frame")));
        for (int k = 0; k < frames; ++k) {
            heat.advance(arc_s / frames, burn.arcs, burn.from_m + (burn.to_m - burn.from_m) * k / frames);
            step(k + 1 == frames);
        }
        const bool last = w + 1 == burns.size();
        cool(last ? 1e5 : of.number("wait"), last || of.number("wait") >= 1e4);
    }
    std::fprintf(stderr, "heat brought %.1f J\n", heat.brought_j());
}

} // namespace

int main(int argc, char** argv) try {
    const std::vector<std::string> word(argv + 1, argv + argc);
    if (word.size() == 3 && word[0] == "read")
        return reference::read_case(word[1], word[2]), 0;
    if (word.empty() || word[0] != "write")
        return std::fputs("see the head of reference_case.cpp\n", stderr), 2;
    Case of;
    for (std::size_t i = 1; i < word.size(); ++i) {
        const std::size_t sign = word[i].find('=');
        if (sign == std::string::npos || !of.words.contains(word[i].substr(0, sign)))
            return std::fprintf(stderr, "%s: no such key\n", word[i].c_str()), 2;
        of.words[word[i].substr(0, sign)] = word[i].substr(sign + 1);
    }
    write(of);
} catch (const std::exception& error) {
    return std::fprintf(stderr, "%s\n", error.what()), 2;
}
