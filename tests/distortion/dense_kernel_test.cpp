// Every width of the dense kernels gives the same bits, and the sums that Eigen gives.
#include "distortion/dense_kernel.h"

#include <Eigen/Core>
#include <doctest/doctest.h>

using namespace holdtrue::distortion;

TEST_CASE("every dense kernel gives the same bits, and what Eigen gives") {
    for (const int count : {0, 1, 7, 16, 33, 250}) {
        CAPTURE(count);
        const Eigen::VectorXd a = Eigen::VectorXd::Random(count), b = Eigen::VectorXd::Random(count),
                              c = Eigen::VectorXd::Random(count), d = Eigen::VectorXd::Random(count);
        const double* rows[] = {a.data(), b.data(), c.data(), d.data()};
        const double factors[] = {0.3, -1.7, 2.9, 0.01};
        double first_dot = 0, first_of_four = 0;
        Eigen::VectorXd first_sum, first_rotated;
        for (const DenseKernel& kernel : available_dense_kernels()) {
            CAPTURE(kernel.name);
            const double dot = kernel.dot(a.data(), b.data(), count);
            double dots[4];
            kernel.dots(rows, 4, b.data(), count, dots);
            CHECK(std::abs(dots[0] - dot) < 1e-12);
            CHECK(std::abs(dots[3] - d.dot(b)) < 1e-12);
            Eigen::VectorXd sum = a;
            kernel.add(sum.data(), 0.7, b.data(), count);
            kernel.add_four(sum.data(), factors, rows, count);
            Eigen::VectorXd left = a, right = b;
            kernel.rotate(left.data(), right.data(), 0.6, 0.8, count);
            CHECK(std::abs(dot - a.dot(b)) < 1e-12);
            const Eigen::VectorXd wanted = a + 0.7 * b + 0.3 * a - 1.7 * b + 2.9 * c + 0.01 * d;
            CHECK((sum - wanted).norm() < 1e-12);
            CHECK((left - (0.6 * a - 0.8 * b)).norm() < 1e-12);
            CHECK((right - (0.6 * b + 0.8 * a)).norm() < 1e-12);
            if (first_sum.size() != count || kernel.name == available_dense_kernels().front().name) {
                first_dot = dot;
                first_of_four = dots[2];
                first_sum = sum;
                first_rotated = left;
            }
            CHECK(dot == first_dot);
            CHECK(dots[2] == first_of_four);
            CHECK(sum == first_sum);
            CHECK(left == first_rotated);
        }
    }
}
