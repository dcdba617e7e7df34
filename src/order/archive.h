// What a search keeps of all that it has seen: the cheapest few orders that are not alike, and the front of distortion
// against time. Of equal costs one order comes before the other by a fixed rule, so that the same candidates in the
// same sequence leave the same archive.
#pragma once

#include "order/search.h"

namespace holdtrue::order {

// Compares two orders pass by pass; any fixed rule would do.
bool comes_before(const Order& a, const Order& b);

// Whether nearly every pass (of eight, seven) comes behind the same one in the same direction.
bool alike(const Order& a, const Order& b);

class Archive {
public:
    Archive(const Problem& problem, int leaders) : problem_(&problem), limit_(static_cast<std::size_t>(leaders)) {}

    void add(const Candidate& candidate);
    std::vector<Candidate> leaders() const { return leaders_; }
    std::vector<Candidate> front() const { return front_; }

private:
    void add_leader(const Candidate& candidate);
    void add_front(const Candidate& candidate);

    const Problem* problem_;
    std::size_t limit_;
    std::vector<Candidate> leaders_, front_;
};

} // namespace holdtrue::order
