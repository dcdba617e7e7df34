// Random numbers that are the same on every machine: the standard fixes the engines, but not the distributions.
#pragma once

#include <cstdint>

namespace holdtrue::order {

// SplitMix64 (Steele, Lea & Flood 2014): one 64-bit state, so that any chain of a search can be seeded by its number.
class Random {
public:
    explicit Random(std::uint64_t seed, std::uint64_t stream = 0) : state_(seed ^ (stream * 0xd1342543de82ef95ull)) {
        next();
        next();
    }

    std::uint64_t next() {
        state_ += 0x9e3779b97f4a7c15ull;
        std::uint64_t z = state_;
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ull;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebull;
        return z ^ (z >> 31);
    }
    double unit() { return static_cast<double>(next() >> 11) * 0x1.0p-53; } // [0, 1)
    // 0 .. count-1; count >= 1. The bias of the product, below 2^-40 for any count that occurs here, does not matter.
    int below(int count) { return static_cast<int>(((next() >> 32) * static_cast<std::uint64_t>(count)) >> 32); }
    bool coin(double chance) { return unit() < chance; }

private:
    std::uint64_t state_;
};

} // namespace holdtrue::order
