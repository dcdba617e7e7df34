// What the lessons "Why parts pull" and "Order" say about shrinkage, asked of the model that computes it.
#include "distortion/strip_model.h"
#include "lesson/model.h"
#include "units/units.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::distortion;

namespace {

struct Bead {
    double plate_m = 0.4, at_m = 0.2;
    double prior_pa = 0;
    double start_k = units::celsius(20);
};

// N per J/m for 150 J/mm in 3 mm plate at 6 mm/s.
double pull(const Bead& bead) {
    const StripMetal metal(YieldCurve::effective);
    StripModel model(plate_section(bead.plate_m, 0.003, 275e6, {bead.at_m}, {}), metal, {}, {true, bead.prior_pa, 0},
                     bead.start_k);
    TorchPass torch;
    torch.at_m = bead.at_m;
    torch.heat_j_per_m = 150e3;
    model.weld(torch);
    model.cool();
    const StripResult result = model.result(bead.at_m);
    REQUIRE(result.converged);
    return result.tendon_force_n / torch.heat_j_per_m;
}

} // namespace

TEST_CASE("why parts pull: about 0.2 N per J/m, less on a narrow strip near an edge") {
    const double wide = pull({});
    CHECK(wide > 0.16);
    CHECK(wide < 0.21);
    CHECK(pull({0.08, 0.005}) < wide);
}

TEST_CASE("order: a bead shrinks less where the metal is in tension, more in compression") {
    const double none = pull({});
    CHECK(pull({0.4, 0.2, 0.3 * 275e6}) < 0.9 * none);
    CHECK(pull({0.4, 0.2, -0.3 * 275e6}) > 1.1 * none);
}

TEST_CASE("order: welding the other edge leaves about a quarter of the bow, and waiting does not lower it") {
    const lesson::Model& bar = *lesson::find_model("bar_two_edges");
    const auto outputs = [&](double wait_below_c) {
        std::vector<double> inputs = bar.usual();
        inputs[bar.input("wait_below")] = units::celsius(wait_below_c);
        return bar.evaluate(inputs);
    };
    const auto cold = outputs(40), hot = outputs(250);
    const int share = bar.output("share"), left = bar.output("left");
    for (const auto& outcome : {cold, hot}) {
        CHECK(outcome[share] > 0.18);
        CHECK(outcome[share] < 0.32);
    }
    CHECK(cold[left] > 0.95 * hot[left]);
}

TEST_CASE("order: a beam warmed to 100 C all over pulls within a few percent of a cold one") {
    const Bead cold{0.08, 0.005};
    Bead warm = cold;
    warm.start_k = units::celsius(100);
    CHECK(pull(warm) == doctest::Approx(pull(cold)).epsilon(0.06));
}
