#include "parallel/message.h"

#include <doctest/doctest.h>

#include <bit>
#include <cmath>
#include <limits>

using namespace holdtrue::parallel;

namespace example {

enum class Colour { straw, blue };

struct Heat {
    double kelvin = 0;
    std::optional<Colour> colour;
    friend bool operator==(const Heat&, const Heat&) = default;
};
template <Is<Heat> H>
auto fields(H& heat) {
    auto& [kelvin, colour] = heat;
    return std::tie(kelvin, colour);
}

struct Job {
    std::string name;
    std::vector<Heat> heats;
    std::array<int, 3> counts{};
    bool done = false;
    friend bool operator==(const Job&, const Job&) = default;
};
template <Is<Job> J>
auto fields(J& job) {
    auto& [name, heats, counts, done] = job;
    return std::tie(name, heats, counts, done);
}

} // namespace example

TEST_CASE("what is put comes out equal, and nothing is left") {
    const std::vector<example::Job> jobs{
        {"", {}, {}, false},
        {std::string("zero \0 inside", 13), {{293.15, {}}, {-0.1, example::Colour::blue}}, {-1, 0, 7}, true}};
    Writer writer;
    writer.put(jobs);
    std::vector<example::Job> back{{"old", {{1, {}}}, {1, 1, 1}, true}};
    Reader reader(writer.bytes());
    reader.get(back);
    CHECK(back == jobs);
    CHECK(reader.at_end());
}

TEST_CASE("numbers keep every bit") {
    using Limits = std::numeric_limits<double>;
    for (const double value : {-0.0, 0.1, Limits::denorm_min(), Limits::max(), Limits::infinity(), Limits::quiet_NaN(),
                               std::nextafter(1.0, 2.0)}) {
        Writer writer;
        writer.put(value);
        double back = 1;
        Reader(writer.bytes()).get(back);
        CHECK(std::bit_cast<std::uint64_t>(back) == std::bit_cast<std::uint64_t>(value));
    }
}
