// Long form of random_marks_test, not run by CTest:
//   random_marks [--plans 1000] [--scale 1.6] [--seed 1] [--threads 2] [EXERCISE...]
// Welds and marks that many random plans on every exercise (or on those named) and reports: the spread of their marks,
// how many pass, and every plan that beats the model plan by more than 5 points, with its seed, as a better model.
// Exit code 1: a mark that differs for the same plan, or that rises with a gauge's error.
#include "random_plans.h"

#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <mutex>
#include <thread>

using namespace holdtrue;

namespace {

struct Arguments {
    int plans = 1000, threads = 2;
    double scale = 1.6;
    unsigned long seed = 1;
    std::vector<std::string> exercises;
};

Arguments parse(int argc, char** argv) {
    Arguments arguments;
    for (int k = 1; k < argc; ++k) {
        const std::string word = argv[k];
        const char* value = k + 1 < argc ? argv[k + 1] : "";
        if (word == "--plans")
            arguments.plans = std::max(1, std::atoi(value)), ++k;
        else if (word == "--threads")
            arguments.threads = std::max(1, std::atoi(value)), ++k;
        else if (word == "--scale")
            arguments.scale = std::max(1.0, std::atof(value)), ++k;
        else if (word == "--seed")
            arguments.seed = std::strtoul(value, nullptr, 10), ++k;
        else
            arguments.exercises.push_back(word);
    }
    if (arguments.exercises.empty())
        arguments.exercises = test::exercise_names();
    return arguments;
}

// Returns whether the marks kept to the rules.
bool run(const std::string& name, const Arguments& arguments) {
    const test::RandomPlans plans(name, arguments.scale);
    const double model = plans.mark(plans.model).total;
    std::vector<double> totals(static_cast<std::size_t>(arguments.plans));
    std::atomic<int> next{0}, passed{0}, better{0}, broken{0};
    std::mutex printing;
    {
        std::vector<std::jthread> threads;
        for (int t = 0; t < arguments.threads; ++t)
            threads.emplace_back([&] {
                for (int k = next++; k < arguments.plans; k = next++) {
                    order::Random random(arguments.seed, static_cast<std::uint64_t>(k));
                    const weld::Plan plan = plans.random(random);
                    const auto outcome = plans.weld(plan);
                    const grading::Mark mark = grading::grade(plans.exercise, *outcome);
                    totals[static_cast<std::size_t>(k)] = mark.total;
                    passed += mark.passed;
                    bool good =
                        test::largest_rise(plans.exercise, *outcome) <= 1e-9 && test::unearned_time(mark) <= 1e-9;
                    if (k % 50 == 0)
                        good = good && plans.mark(plan).total == mark.total;
                    broken += !good;
                    if (good && mark.total <= model + 5)
                        continue;
                    better += mark.total > model + 5;
                    const std::lock_guard lock(printing);
                    std::printf("  %s: plan %d of seed %lu gets %.1f (model %.1f)%s\n", name.c_str(), k, arguments.seed,
                                mark.total, model, good ? ": a better model" : ": breaks a rule of marks");
                }
            });
    }
    std::ranges::sort(totals);
    std::printf("%-24s model %5.1f   random: least %5.1f  median %5.1f  most %5.1f   pass %d of %d, better models %d\n",
                name.c_str(), model, totals.front(), totals[totals.size() / 2], totals.back(), passed.load(),
                arguments.plans, better.load());
    std::fflush(stdout);
    return broken == 0;
}

} // namespace

int main(int argc, char** argv) {
    const Arguments arguments = parse(argc, argv);
    bool good = true;
    try {
        for (const std::string& name : arguments.exercises)
            good = run(name, arguments) && good;
    } catch (const text::InputError& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
    return good ? 0 : 1;
}
