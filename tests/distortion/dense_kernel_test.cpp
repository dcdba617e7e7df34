// Every width of the dense kernels gives the same bits, and the sums that Eigen gives.
#include "distortion/dense_kernel.h"

#include <Eigen/Core>
#include <doctest/doctest.h>

#include <numeric>
#include <vector>

using namespace holdtrue::distortion;

TEST_CASE("every dense kernel gives the same bits, and what Eigen gives") {
    for (const int count : {0, 1, 7, 16, 33, 250}) {
        CAPTURE(count);
        const Eigen::VectorXd a = Eigen::VectorXd::Random(count), b = Eigen::VectorXd::Random(count),
                              c = Eigen::VectorXd::Random(count), d = Eigen::VectorXd::Random(count);
        const double* rows[] = {a.data(), b.data(), c.data(), d.data(), a.data()};
        const double factors[] = {0.3, -1.7, 2.9, 0.01, -0.5};
        std::vector<int> backwards(static_cast<std::size_t>(count));
        std::iota(backwards.rbegin(), backwards.rend(), 0);
        double first_dot = 0, first_of_four = 0, first_product = 0;
        Eigen::VectorXd first_sum;
        Eigen::VectorXf first_short_sum;
        for (const DenseKernel& kernel : available_dense_kernels()) {
            CAPTURE(kernel.name);
            const double dot = kernel.dot(a.data(), b.data(), count);
            double dots[4];
            kernel.dots(rows, 4, b.data(), count, dots);
            CHECK(std::abs(dots[0] - dot) < 1e-12);
            CHECK(std::abs(dots[3] - d.dot(b)) < 1e-12);
            Eigen::VectorXd sum = a;
            kernel.add(sum.data(), 0.7, b.data(), count);
            kernel.add_columns(sum.data(), factors, rows, 5, count);
            Eigen::VectorXf short_sum = Eigen::VectorXf::Zero(count);
            using Shorts = Eigen::Matrix<std::int16_t, Eigen::Dynamic, 1>;
            const Shorts whole_a = (a * 32767).cast<std::int16_t>(), whole_d = (d * 32767).cast<std::int16_t>();
            const std::int16_t* whole[] = {whole_a.data(), whole_d.data(), whole_a.data(), whole_d.data(),
                                           whole_d.data()};
            const float short_factors[] = {0.5f, -1.75f, 2.f, 0.25f, -0.5f};
            kernel.add_short_columns(short_sum.data(), short_factors, whole, 5, count);
            double products[25];
            kernel.products(rows, 5, rows, 5, count, products);
            const double gathered = kernel.gathered_dot(a.data(), backwards.data(), b.data(), count);
            CHECK(std::abs(dot - a.dot(b)) < 1e-12);
            const Eigen::VectorXd wanted = a + 0.7 * b + 0.3 * a - 1.7 * b + 2.9 * c + 0.01 * d - 0.5 * a;
            CHECK((sum - wanted).norm() < 1e-12);
            CHECK(short_sum == 2.5f * whole_a.cast<float>() - 2.f * whole_d.cast<float>()); // both exact in floats
            CHECK(std::abs(products[5 * 2 + 3] - d.dot(c)) < 1e-12);
            CHECK(std::abs(products[5 * 4 + 1] - b.dot(a)) < 1e-12);
            CHECK(std::abs(products[5 * 1 + 4] - a.dot(b)) < 1e-12);
            CHECK(std::abs(gathered - a.reverse().dot(b)) < 1e-12);
            if (first_sum.size() != count || kernel.name == available_dense_kernels().front().name) {
                first_dot = dot;
                first_of_four = dots[2];
                first_sum = sum;
                first_short_sum = short_sum;
                first_product = products[7];
            }
            CHECK(dot == first_dot);
            CHECK(dots[2] == first_of_four);
            CHECK(sum == first_sum);
            CHECK(short_sum == first_short_sum);
            CHECK(products[7] == first_product);
        }
    }
}
