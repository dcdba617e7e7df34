#include "distortion/shell_element.h"

#include "text/verify.h"

#include <Eigen/Geometry>
#include <Eigen/LU>

#include <cmath>

namespace holdtrue::distortion {

namespace {

// Share of the shear modulus that the drilling springs get. Weaker, a twisted strip is too soft, as moments cannot
// turn the corner from one element to the next (0.01: 3 %); stiffer, coarse meshes of a sphere lock (1: 6 %).
constexpr double drilling_share = 0.1;
constexpr double shear_correction = 5.0 / 6.0;

constexpr std::array<double, 4> corner_xi{-1, 1, 1, -1};
constexpr std::array<double, 4> corner_eta{-1, -1, 1, 1};

// Shape functions and their derivatives by the natural coordinates, and the map to the plane.
struct Plane {
    Eigen::Vector4d shape, d_xi, d_eta, d_x, d_y;
    Eigen::Matrix2d jacobian; // rows d(x, y)/d xi, d(x, y)/d eta
    double determinant;
};

Plane plane_at(const Eigen::Matrix<double, 4, 2>& corner, double xi, double eta) {
    Plane at;
    for (int i = 0; i < 4; ++i) {
        at.shape[i] = 0.25 * (1 + corner_xi[i] * xi) * (1 + corner_eta[i] * eta);
        at.d_xi[i] = 0.25 * corner_xi[i] * (1 + corner_eta[i] * eta);
        at.d_eta[i] = 0.25 * corner_eta[i] * (1 + corner_xi[i] * xi);
    }
    at.jacobian.row(0) = at.d_xi.transpose() * corner;
    at.jacobian.row(1) = at.d_eta.transpose() * corner;
    at.determinant = at.jacobian.determinant();
    const Eigen::Matrix2d inverse = at.jacobian.inverse();
    at.d_x = inverse(0, 0) * at.d_xi + inverse(0, 1) * at.d_eta;
    at.d_y = inverse(1, 0) * at.d_xi + inverse(1, 1) * at.d_eta;
    return at;
}

// Six rows (exx, eyy, gxy, kxx, kyy, kxy) against the 24 local degrees of freedom (u v w rx ry rz per node).
// A line stands off its mean plane by u(z) = z ry, v(z) = -z rx.
Eigen::Matrix<double, 6, 24> strain_matrix(const Plane& at) {
    Eigen::Matrix<double, 6, 24> b = Eigen::Matrix<double, 6, 24>::Zero();
    for (int i = 0; i < 4; ++i) {
        const int c = 6 * i;
        b(0, c) = b(2, c + 1) = at.d_x[i];
        b(1, c + 1) = b(2, c) = at.d_y[i];
        b(3, c + 4) = at.d_x[i];
        b(4, c + 3) = -at.d_y[i];
        b(5, c + 4) = at.d_y[i];
        b(5, c + 3) = -at.d_x[i];
    }
    return b;
}

// Covariant transverse shear at a tying point: along xi (direction 0) or eta (1).
Eigen::Matrix<double, 1, 24> tied_shear(const Eigen::Matrix<double, 4, 2>& corner, double xi, double eta,
                                        int direction) {
    const Plane at = plane_at(corner, xi, eta);
    const Eigen::Vector4d& slope = direction == 0 ? at.d_xi : at.d_eta;
    Eigen::Matrix<double, 1, 24> row = Eigen::Matrix<double, 1, 24>::Zero();
    for (int i = 0; i < 4; ++i) {
        row(6 * i + 2) = slope[i];
        row(6 * i + 4) = at.shape[i] * at.jacobian(direction, 0);
        row(6 * i + 3) = -at.shape[i] * at.jacobian(direction, 1);
    }
    return row;
}

} // namespace

Eigen::Matrix3d membrane_stiffness(const Elastic& elastic, double thickness_m) {
    const double nu = elastic.poisson;
    Eigen::Matrix3d d;
    d << 1, nu, 0, nu, 1, 0, 0, 0, 0.5 * (1 - nu);
    return d * (elastic.young_pa * thickness_m / (1 - nu * nu));
}

ShellElement::ShellElement(const Corners& corners, double thickness_m, const Elastic& elastic)
    : thickness_m_(thickness_m) {
    // Mean plane: parallel to both diagonals, through the mean of the corners.
    const Eigen::Vector3d middle = 0.25 * (corners[0] + corners[1] + corners[2] + corners[3]);
    const Eigen::Vector3d normal = (corners[2] - corners[0]).cross(corners[3] - corners[1]).normalized();
    const Eigen::Vector3d along = corners[1] + corners[2] - corners[0] - corners[3];
    const Eigen::Vector3d x = (along - along.dot(normal) * normal).normalized();
    axes_.row(0) = x.transpose();
    axes_.row(1) = normal.cross(x).transpose();
    axes_.row(2) = normal.transpose();
    Eigen::Matrix<double, 4, 2> flat;
    Eigen::Vector4d height;
    for (int i = 0; i < 4; ++i) {
        const Eigen::Vector3d local = axes_ * (corners[i] - middle);
        flat.row(i) = local.head<2>().transpose();
        height[i] = local.z();
    }

    // From global nodal displacements to those of the flat element: turn the axes, then follow the rigid links.
    Eigen::Matrix<double, 24, 24> to_flat = Eigen::Matrix<double, 24, 24>::Zero();
    for (int i = 0; i < 4; ++i) {
        to_flat.block<3, 3>(6 * i, 6 * i) = axes_;
        to_flat.block<3, 3>(6 * i + 3, 6 * i + 3) = axes_;
        to_flat.block<1, 3>(6 * i, 6 * i + 3) = -height[i] * axes_.row(1);
        to_flat.block<1, 3>(6 * i + 1, 6 * i + 3) = height[i] * axes_.row(0);
    }

    const Eigen::Matrix3d membrane = membrane_stiffness(elastic, thickness_m);
    const Eigen::Matrix3d bending = membrane * (thickness_m * thickness_m / 12);
    const double shear_modulus = elastic.young_pa / (2 * (1 + elastic.poisson));
    const double shear = shear_correction * shear_modulus * thickness_m;
    const double drilling = drilling_share * shear_modulus * thickness_m;

    const Plane centre = plane_at(flat, 0, 0);
    VERIFY(centre.determinant > 0, "shell element without area");
    const Eigen::Matrix2d centre_inverse = centre.jacobian.inverse();
    const auto shear_xi_low = tied_shear(flat, 0, -1, 0), shear_xi_high = tied_shear(flat, 0, 1, 0);
    const auto shear_eta_low = tied_shear(flat, -1, 0, 1), shear_eta_high = tied_shear(flat, 1, 0, 1);

    ElementMatrix k = ElementMatrix::Zero();
    Eigen::Matrix<double, 24, 4> k_incompatible = Eigen::Matrix<double, 24, 4>::Zero();
    Eigen::Matrix4d k_modes = Eigen::Matrix4d::Zero();
    Eigen::Matrix<double, 6, 24> integral = Eigen::Matrix<double, 6, 24>::Zero();
    nodal_area_m2_.setZero();
    const double gauss = 1 / std::sqrt(3.0);
    for (const double xi : {-gauss, gauss}) {
        for (const double eta : {-gauss, gauss}) {
            const Plane at = plane_at(flat, xi, eta);
            const double area = at.determinant;
            VERIFY(area > 0, "shell element folded over");
            area_m2_ += area;
            nodal_area_m2_ += area * at.shape;
            const auto b = strain_matrix(at);
            integral += area * b;
            const Eigen::Matrix<double, 3, 24> bm = b.topRows<3>(), bb = b.bottomRows<3>();
            k += area * (bm.transpose() * membrane * bm + bb.transpose() * bending * bb);

            // Incompatible modes 1 - xi^2 and 1 - eta^2, with the middle's map scaled so that their mean strain is 0.
            const double scale = centre.determinant / at.determinant;
            const Eigen::Vector2d of_xi = scale * centre_inverse.col(0) * (-2 * xi);
            const Eigen::Vector2d of_eta = scale * centre_inverse.col(1) * (-2 * eta);
            Eigen::Matrix<double, 3, 4> modes;
            modes << of_xi.x(), 0, of_eta.x(), 0, //
                0, of_xi.y(), 0, of_eta.y(),      //
                of_xi.y(), of_xi.x(), of_eta.y(), of_eta.x();
            k_incompatible += area * bm.transpose() * membrane * modes;
            k_modes += area * modes.transpose() * membrane * modes;

            // Drilling: the nodes' rotations against the membrane's own, (v,x - u,y) / 2, incompatible modes included:
            // without them in-plane bending would lock again.
            Eigen::Matrix<double, 1, 24> twist = Eigen::Matrix<double, 1, 24>::Zero();
            for (int i = 0; i < 4; ++i) {
                twist(6 * i) = 0.5 * at.d_y[i];
                twist(6 * i + 1) = -0.5 * at.d_x[i];
                twist(6 * i + 5) = at.shape[i];
            }
            const Eigen::RowVector4d mode_twist =
                0.5 * Eigen::RowVector4d(of_xi.y(), -of_xi.x(), of_eta.y(), -of_eta.x());
            k += area * drilling * twist.transpose() * twist;
            k_incompatible += area * drilling * twist.transpose() * mode_twist;
            k_modes += area * drilling * mode_twist.transpose() * mode_twist;

            // Shear tied at the edge middles, brought from the natural to the Cartesian axes.
            Eigen::Matrix<double, 2, 24> natural;
            natural.row(0) = 0.5 * (1 - eta) * shear_xi_low + 0.5 * (1 + eta) * shear_xi_high;
            natural.row(1) = 0.5 * (1 - xi) * shear_eta_low + 0.5 * (1 + xi) * shear_eta_high;
            const Eigen::Matrix<double, 2, 24> cartesian = at.jacobian.inverse() * natural;
            k += area * shear * cartesian.transpose() * cartesian;
        }
    }
    k -= k_incompatible * k_modes.inverse() * k_incompatible.transpose();
    stiffness_ = to_flat.transpose() * k * to_flat;

    ElementVector link = ElementVector::Zero(); // a link that grows lifts its corner off the plane
    for (int i = 0; i < 4; ++i)
        link[6 * i + 2] = height[i];
    link_forces_ = to_flat.transpose() * (k * link);
    strain_at_middle_ = strain_matrix(centre) * to_flat;
    strain_integral_ = integral * to_flat;
}

ElementVector ShellElement::forces_of(const Resultants& held, double link_growth) const {
    // The incompatible modes have no mean strain, so constant resultants do no work on them.
    return strain_integral_.topRows<3>().transpose() * held.membrane +
           strain_integral_.bottomRows<3>().transpose() * held.bending + link_growth * link_forces_;
}

Resultants ShellElement::strains_at_middle(const ElementVector& displacement) const {
    return {strain_at_middle_.topRows<3>() * displacement, strain_at_middle_.bottomRows<3>() * displacement};
}

ElementVector ShellElement::strain_row(const Eigen::Vector3d& direction) const {
    const Eigen::Vector2d d = (axes_.topRows<2>() * direction).normalized();
    return strain_at_middle_.topRows<3>().transpose() * Eigen::Vector3d(d.x() * d.x(), d.y() * d.y(), d.x() * d.y());
}

} // namespace holdtrue::distortion
