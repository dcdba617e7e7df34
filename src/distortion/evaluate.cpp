#include "distortion/evaluate.h"

#include "distortion/estimate.h"

namespace holdtrue::distortion {

Result evaluate(const part::Part& part, const part::Mesh& mesh, const std::vector<Step>& steps, std::stop_token stop) {
    return estimate(part, mesh, steps, std::move(stop));
}

} // namespace holdtrue::distortion
