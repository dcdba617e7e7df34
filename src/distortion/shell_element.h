// Flat four-node shell element with six degrees of freedom per node (u, v, w, and the rotations about x, y, z).
//
//   membrane   bilinear displacements and two incompatible modes per direction, condensed out inside the element
//              (Wilson et al. 1973), with the correction that lets them pass the patch test on any quadrilateral
//              (Taylor, Beresford and Wilson 1976): so in-plane bending does not lock
//   bending    Reissner-Mindlin with the transverse shear tied at the middles of the edges (Bathe and Dvorkin 1985)
//   drilling   the nodes' rotations about the normal are held to the rotation of the membrane (Hughes and Brezzi
//              1989, with the incompatible modes counted in), which no rigid motion and no constant strain excites
//   warping    stiffness is that of the quadrilateral projected on the mean plane; the corners hang on it by rigid
//              links (MacNeal 1978), so that rigid motion stays free of strain
//
// Resultants are per unit width in the element's own axes: N = (Nx, Ny, Nxy) [N/m], M = (Mx, My, Mxy) [N],
// Mx = int sigma_x z dz. Small displacements, linear elastic, constant thickness. Sources from memory.
#pragma once

#include <Eigen/Core>

#include <array>

namespace holdtrue::distortion {

struct Elastic {
    double young_pa = 210e9;
    double poisson = 0.3;
};

using Corners = std::array<Eigen::Vector3d, 4>; // [m], in order round the element
using ElementMatrix = Eigen::Matrix<double, 24, 24>;
using ElementVector = Eigen::Matrix<double, 24, 1>;

// Membrane and bending resultants, or the strains and curvatures that go with them.
struct Resultants {
    Eigen::Vector3d membrane = Eigen::Vector3d::Zero();
    Eigen::Vector3d bending = Eigen::Vector3d::Zero();
};

// Plane-stress membrane stiffness E t / (1 - nu^2) [...] [N/m]; times t^2 / 12 it is the bending stiffness [N m].
Eigen::Matrix3d membrane_stiffness(const Elastic& elastic, double thickness_m);

class ShellElement {
public:
    // The corners must make a convex quadrilateral of non-zero area (a triangle with two equal corners is allowed).
    ShellElement(const Corners& corners, double thickness_m, const Elastic& elastic);

    double area_m2() const { return area_m2_; } // of the projection
    // Rows are the element's x, y and normal, in global coordinates.
    const Eigen::Matrix3d& axes() const { return axes_; }
    double thickness_m() const { return thickness_m_; }

    const ElementMatrix& stiffness() const { return stiffness_; } // global axes

    // Nodal forces [N, N m] equivalent to constant resultants held in the element: int B^T (N0, M0) dA.
    // `link_growth`: strain by which the rigid links at warped corners grow (the mean of the thermal strain).
    ElementVector forces_of(const Resultants& held, double link_growth = 0) const;
    // Strains and curvatures at the middle, from nodal displacements in global axes.
    Resultants strains_at_middle(const ElementVector& displacement) const;
    // Row that reads the membrane strain along a global direction (projected on the element) at the middle.
    ElementVector strain_row(const Eigen::Vector3d& direction) const;
    // Lumped nodal weights of a load per area: they sum to the area.
    const Eigen::Vector4d& nodal_area_m2() const { return nodal_area_m2_; }

private:
    double thickness_m_;
    double area_m2_ = 0;
    Eigen::Matrix3d axes_;
    ElementMatrix stiffness_;
    Eigen::Vector4d nodal_area_m2_;
    // At the middle, and integrated over the element: (3 membrane, 3 bending) x 24, global axes.
    Eigen::Matrix<double, 6, 24> strain_at_middle_, strain_integral_;
    ElementVector link_forces_; // per unit growth of the links
};

} // namespace holdtrue::distortion
