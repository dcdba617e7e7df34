// A mark as ranks tell each other of it (parallel/message.h).
#pragma once

#include "grading/mark.h"
#include "parallel/message.h"

namespace holdtrue::grading {

template <parallel::Is<Remark> R>
auto fields(R& remark) {
    auto& [aspect, verdict, move, card, gauge, rule, topic, chosen, measured, limit, source, consequence, try_this,
           points_lost, must_be_met] = remark;
    return std::tie(aspect, verdict, move, card, gauge, rule, topic, chosen, measured, limit, source, consequence,
                    try_this, points_lost, must_be_met);
}
template <parallel::Is<Mark> M>
auto fields(M& mark) {
    auto& [total, passed, why_not, reached, possible, hint_points, remarks] = mark;
    return std::tie(total, passed, why_not, reached, possible, hint_points, remarks);
}

} // namespace holdtrue::grading
