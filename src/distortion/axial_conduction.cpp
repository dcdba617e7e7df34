// Heat that flows along the weld, ahead of the torch and behind it. Every time step then depends on the next one, so
// that the whole field has to be found at once: Newton's method, its linear systems by GMRES, preconditioned by block
// elimination from step to step in which the fill-in is lumped onto the diagonal (exact for what varies slowly across
// the section; modified incomplete factorisation, Gustafsson, BIT 18 (1978) 142, from memory). 10 to 20 iterations.
#include "distortion/section_heat.h"

#include <Eigen/Dense>

#include <cmath>

namespace holdtrue::distortion {
namespace {

using Field = Eigen::ArrayXXd; // [strip][step]
using Column = Eigen::ArrayXd; // [strip]

// The linear system of one Newton step. Within a time step strips i and i + 1 are tied by
// -link[i] k(i + 1) (row i) and -link[i] k(i) (row i + 1).
struct Linear {
    const SectionConduction& section;
    Field conductivity;   // of each strip at each step
    Field diagonal;       // as it stands
    Field earlier, later; // diagonal links to the step before and after
    // The preconditioner after elimination along the chain: one over its pivots, and what strips i + 1 and i take over
    // from each other on the way there and back.
    Field inverse_pivot, there, back;

    void factorise() {
        Column pivot;
        for (Eigen::Index k = 0; k < diagonal.cols(); ++k) {
            pivot = diagonal.col(k);
            if (k > 0) {
                Column lumped = later.col(k - 1);
                solve_step(k - 1, lumped);
                pivot -= earlier.col(k) * lumped;
            }
            for (Eigen::Index i = 0; i < pivot.size(); ++i) {
                inverse_pivot(i, k) = 1 / pivot(i);
                if (i + 1 == pivot.size())
                    break;
                there(i, k) = section.link[i] * conductivity(i, k) * inverse_pivot(i, k);
                back(i, k) = section.link[i] * conductivity(i + 1, k) * inverse_pivot(i, k);
                pivot(i + 1) -= section.link[i] * conductivity(i + 1, k) * there(i, k);
            }
        }
    }

    void solve_step(Eigen::Index k, Eigen::Ref<Column> x) const {
        const Eigen::Index last = x.size() - 1;
        for (Eigen::Index i = 0; i < last; ++i)
            x(i + 1) += there(i, k) * x(i);
        x *= inverse_pivot.col(k);
        for (Eigen::Index i = last; i-- > 0;)
            x(i) += back(i, k) * x(i + 1);
    }

    Field precondition(Field x) const {
        for (Eigen::Index k = 0; k < x.cols(); ++k) {
            if (k > 0)
                x.col(k) -= earlier.col(k) * x.col(k - 1);
            solve_step(k, x.col(k));
        }
        for (Eigen::Index k = x.cols() - 1; k-- > 0;) {
            Column next = later.col(k) * x.col(k + 1);
            solve_step(k, next);
            x.col(k) -= next;
        }
        return x;
    }

    Field apply(const Field& x) const {
        Field y = diagonal * x;
        const Eigen::Index more = x.cols() - 1;
        y.rightCols(more) += earlier.rightCols(more) * x.leftCols(more);
        y.leftCols(more) += later.leftCols(more) * x.rightCols(more);
        for (Eigen::Index i = 0; i + 1 < x.rows(); ++i) {
            y.row(i) -= section.link[i] * conductivity.row(i + 1) * x.row(i + 1);
            y.row(i + 1) -= section.link[i] * conductivity.row(i) * x.row(i);
        }
        return y;
    }

    // GMRES, preconditioned from the right, to a relative residual.
    Field solve(const Field& right, double relative) const {
        const int most = 60;
        const double size = std::sqrt(right.square().sum());
        std::vector<Field> basis{right / size};
        Eigen::MatrixXd hessenberg = Eigen::MatrixXd::Zero(most + 1, most);
        Eigen::VectorXd weights;
        for (int j = 0; j < most; ++j) {
            Field next = apply(precondition(basis[j]));
            for (int i = 0; i <= j; ++i) {
                hessenberg(i, j) = (basis[i] * next).sum();
                next -= hessenberg(i, j) * basis[i];
            }
            hessenberg(j + 1, j) = std::sqrt(next.square().sum());
            const Eigen::MatrixXd small = hessenberg.topLeftCorner(j + 2, j + 1);
            const Eigen::VectorXd target = size * Eigen::VectorXd::Unit(j + 2, 0);
            weights = small.colPivHouseholderQr().solve(target);
            if ((small * weights - target).norm() < relative * size || hessenberg(j + 1, j) == 0)
                break;
            basis.push_back(next / hessenberg(j + 1, j));
        }
        Field sum = Field::Zero(right.rows(), right.cols());
        for (Eigen::Index j = 0; j < weights.size(); ++j)
            sum += weights(j) * basis[j];
        return precondition(std::move(sum));
    }
};

} // namespace

bool couple_axially(const SectionConduction& section, double travel_m_per_s, const std::vector<double>& start_k,
                    PassField& field) {
    const auto strips = static_cast<Eigen::Index>(start_k.size()), steps = static_cast<Eigen::Index>(field.dt_s.size());
    const double per_v2 = 1 / (travel_m_per_s * travel_m_per_s);
    const Eigen::Map<const Eigen::ArrayXd> area(section.area_m2.data(), strips);
    Field temperature(strips, steps);
    for (Eigen::Index k = 0; k < steps; ++k)
        temperature.col(k) = Eigen::Map<const Eigen::ArrayXd>(field.temperature_k[k].data(), strips);
    Eigen::ArrayXd start_enthalpy(strips), start_kirchhoff(strips);
    for (Eigen::Index i = 0; i < strips; ++i) {
        const StripMetal::Thermal at_start = section.metal.thermal(start_k[i]);
        start_enthalpy(i) = at_start.enthalpy_j_per_m3;
        start_kirchhoff(i) = at_start.kirchhoff_w_per_m;
    }

    Field enthalpy(strips, steps), capacity(strips, steps), kirchhoff(strips, steps), right(strips, steps);
    Linear linear{section,
                  Field(strips, steps),
                  Field(strips, steps),
                  Field::Zero(strips, steps),
                  Field::Zero(strips, steps),
                  Field(strips, steps),
                  Field(strips, steps),
                  Field(strips, steps)};
    const double close_k = 0.01;
    bool settled = false;
    for (int iteration = 0; iteration < 25 && !settled; ++iteration) {
        for (Eigen::Index k = 0; k < steps; ++k)
            for (Eigen::Index i = 0; i < strips; ++i) {
                const StripMetal::Thermal now = section.metal.thermal(temperature(i, k));
                enthalpy(i, k) = now.enthalpy_j_per_m3;
                capacity(i, k) = now.capacity_j_per_m3k;
                kirchhoff(i, k) = now.kirchhoff_w_per_m;
                linear.conductivity(i, k) = now.conductivity_w_per_mk;
            }
        for (Eigen::Index k = 0; k < steps; ++k) {
            const double dt = field.dt_s[k];
            // Storage and axial flux against the step before, axial flux against the step after.
            const Eigen::ArrayXd before_h = k > 0 ? Eigen::ArrayXd(enthalpy.col(k - 1)) : start_enthalpy;
            const Eigen::ArrayXd before_theta = k > 0 ? Eigen::ArrayXd(kirchhoff.col(k - 1)) : start_kirchhoff;
            const double from_before = per_v2 / (dt * dt);
            right.col(k) =
                -area * ((enthalpy.col(k) - before_h) / dt + from_before * (kirchhoff.col(k) - before_theta));
            linear.diagonal.col(k) = area * (capacity.col(k) / dt + from_before * linear.conductivity.col(k));
            if (k > 0)
                linear.earlier.col(k) =
                    -area * (capacity.col(k - 1) / dt + from_before * linear.conductivity.col(k - 1));
            if (k + 1 < steps) {
                const double from_after = per_v2 / (dt * field.dt_s[k + 1]);
                right.col(k) += area * from_after * (kirchhoff.col(k + 1) - kirchhoff.col(k));
                linear.diagonal.col(k) += area * from_after * linear.conductivity.col(k);
                linear.later.col(k) = -area * from_after * linear.conductivity.col(k + 1);
            }
            // Across the section, the torch and the losses.
            for (Eigen::Index i = 0; i < strips; ++i) {
                const double t = temperature(i, k);
                right(i, k) += field.source_w_per_m[k][i] - section.width_m[i] * section.loss_w_per_m2(t);
                linear.diagonal(i, k) += section.width_m[i] * section.loss_slope_w_per_m2k(t);
                if (i > 0) {
                    const double link = section.link[i - 1], flux = link * (kirchhoff(i, k) - kirchhoff(i - 1, k));
                    right(i, k) -= flux;
                    right(i - 1, k) += flux;
                    linear.diagonal(i, k) += link * linear.conductivity(i, k);
                    linear.diagonal(i - 1, k) += link * linear.conductivity(i - 1, k);
                }
            }
        }
        linear.factorise();
        const Field change = linear.solve(right, 1e-3);
        temperature += (iteration < 8 ? 1.0 : 0.5) * change;
        settled = change.abs().maxCoeff() < close_k;
    }
    for (Eigen::Index k = 0; k < steps; ++k)
        Eigen::Map<Eigen::ArrayXd>(field.temperature_k[k].data(), strips) = temperature.col(k);
    return settled;
}

} // namespace holdtrue::distortion
