#include "distortion/free_motion.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>

#include <algorithm>
#include <array>
#include <map>
#include <numeric>

namespace holdtrue::distortion {
namespace {

using Eigen::Vector3d;
using Rigid = Eigen::Matrix<double, 6, 1>;

// Supports whose levers differ by more than this act as one.
constexpr double least_lever_ratio = 1e-5;

std::vector<int> pieces_of(const ShellMesh& mesh) {
    std::vector<int> parent(mesh.node_m.size());
    std::iota(parent.begin(), parent.end(), 0);
    const auto root = [&](int n) {
        while (parent[static_cast<std::size_t>(n)] != n) {
            int& up = parent[static_cast<std::size_t>(n)];
            up = parent[static_cast<std::size_t>(up)];
            n = up;
        }
        return n;
    };
    for (const auto& quad : mesh.quad)
        for (const int node : quad)
            parent[static_cast<std::size_t>(root(node))] = root(quad[0]);
    std::vector<int> piece(mesh.node_m.size());
    for (std::size_t n = 0; n < piece.size(); ++n)
        piece[n] = root(static_cast<int>(n));
    return piece;
}

std::string words_of(const Rigid& motion) {
    Eigen::Index most = 0;
    motion.cwiseAbs().maxCoeff(&most);
    static constexpr std::array words{"shift along x", "shift along y", "shift along z",
                                      "turn about x",  "turn about y",  "turn about z"};
    return words[static_cast<std::size_t>(most)];
}

} // namespace

std::optional<FreeMotion> free_motion(const ShellMesh& mesh, std::span<const char> fixed) {
    struct Piece {
        Vector3d sum = Vector3d::Zero();
        int nodes = 0;
        double size_m = 0;
        bool is_held = false;
        Eigen::Matrix<double, 6, 6> held = Eigen::Matrix<double, 6, 6>::Zero();
    };
    const std::vector<int> piece_of = pieces_of(mesh);
    std::map<int, Piece> pieces;
    for (std::size_t n = 0; n < piece_of.size(); ++n) {
        Piece& piece = pieces[piece_of[n]];
        piece.sum += mesh.node_m[n];
        ++piece.nodes;
    }
    const auto lever = [&](std::size_t n, const Piece& piece) -> Vector3d {
        return mesh.node_m[n] - piece.sum / piece.nodes;
    };
    for (std::size_t n = 0; n < piece_of.size(); ++n) {
        Piece& piece = pieces[piece_of[n]];
        piece.size_m = std::max(piece.size_m, lever(n, piece).norm());
    }
    for (std::size_t n = 0; n < piece_of.size(); ++n) {
        Piece& piece = pieces[piece_of[n]];
        for (int k = 0; k < 6; ++k) {
            if (!fixed[6 * n + static_cast<std::size_t>(k)])
                continue;
            Rigid row = Rigid::Zero();
            row[k] = 1;
            if (k < 3)
                row.tail<3>() = lever(n, piece).cross(Vector3d::Unit(k)) / piece.size_m;
            piece.held += row * row.transpose();
        }
    }
    for (std::size_t e = 0; e < mesh.quad.size(); ++e) {
        Piece& piece = pieces[piece_of[static_cast<std::size_t>(mesh.quad[e][0])]];
        if (piece.is_held)
            continue;
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 6, 6>> modes(piece.held);
        const double least = modes.eigenvalues()[0], most = modes.eigenvalues()[5];
        if (!(least > least_lever_ratio * least_lever_ratio * most))
            return FreeMotion{static_cast<int>(e), words_of(modes.eigenvectors().col(0))};
        piece.is_held = true;
    }
    return std::nullopt;
}

} // namespace holdtrue::distortion
