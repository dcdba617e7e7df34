// A body of bricks: a cross-section cut from a grid of y and z lines, drawn out along x. And its heat, by explicit
// finite volumes about the nodes: rho dh/dt = div(k grad T) + q - losses of the outer faces, steel of EN 1993-1-2.
#pragma once

#include <array>
#include <span>
#include <vector>

namespace holdtrue::reference {

struct BrickGrid {
    std::vector<double> x_m, y_m, z_m;    // lines, rising
    std::vector<std::vector<bool>> solid; // [y cell][z cell]
    bool mirrored = false;                // the body goes on beyond its first y line as its own mirror image
    bool flat = false;                    // loses heat through its z faces only, as the strip model does

    int node(std::size_t i, std::size_t j, std::size_t k) const { // 1-based, x fastest
        return static_cast<int>(1 + i + x_m.size() * (j + y_m.size() * k));
    }
    std::size_t node_count() const { return x_m.size() * y_m.size() * z_m.size(); }
    bool is_solid(std::size_t j, std::size_t k) const { return j < solid.size() && k < solid[j].size() && solid[j][k]; }
    bool has_node(std::size_t j, std::size_t k) const;
    std::array<double, 3> place_m(int node) const;
};

struct MovingArc {
    double heat_j_per_m, travel_m_per_s, sigma_m;
    double y_m, z_m; // the line it follows
};

class BrickHeat {
public:
    BrickHeat(const BrickGrid& grid, double ambient_k);

    // `torch_m`: where along x the arcs are, side by side, when the time begins.
    void advance(double time_s, std::span<const MovingArc> arcs, double torch_m);
    void set_uniform(double kelvin);
    double hottest_k() const;
    double coldest_k() const;
    double temperature_k(int node) const { return temperature_[node - 1]; }
    double brought_j() const { return brought_; }

private:
    struct Link {
        int a, b;
        double area_per_length_m;
    };
    void step(double time_s, std::span<const MovingArc> arcs, double torch_m);

    const BrickGrid& grid_;
    double ambient_k_, limit_s_;
    std::vector<Link> links_;
    std::vector<double> volume_m3_, face_m2_, temperature_, content_; // [node - 1]; volume 0: no such node
    double brought_ = 0;
};

} // namespace holdtrue::reference
