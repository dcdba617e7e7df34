// A part condensed onto its rows, once: what every spring and every action does to every row of the untied panels.
//   flexibility  C = B K^-1 B^T       rows x rows, panels held at six unknowns each
//   of loads     W = B K^-1 F         rows x loads
//   of heat      H = B K^-1 T + G     rows x nodes
//   motions      R = B (rigid motions of the panels)
// After that a job on the part is algebra on rows (condensed_response.h), exact but for rounding. Const once built:
// any number of threads may evaluate jobs on one CondensedPart.
#pragma once

#include "distortion/condensed_store.h"
#include "distortion/part_model.h"
#include "distortion/tendon_tables.h"

#include <stop_token>

namespace holdtrue::distortion {

class CondensedPart {
public:
    // Copies what it needs of part and mesh. Stops early, incomplete, when asked to; then ok() is false. What the store
    // has of it is read instead of worked out, to the same bits.
    CondensedPart(const part::Part& part, const part::Mesh& mesh, const PartModelSettings& settings = {},
                  std::stop_token stop = {}, const CondensedStore& store = CondensedStore({}));

    bool ok() const { return ok_; }
    const PartModel& model() const { return *model_; }
    const SparseFactor& factor() const { return factor_; }
    const Eigen::MatrixXd& flexibility() const { return flexibility_; } // symmetric; column r is all rows against r
    const Eigen::MatrixXd& of_loads() const { return of_loads_; }       // rows x loads
    const Eigen::MatrixXd& of_strains() const { return of_strains_; }   // rows x nodes
    const Columns& motions() const { return motions_; }                 // rows x 6 panels
    std::size_t bytes() const;
    // Tables that jobs on this part made and the next ones need again; no part of the result.
    const std::shared_ptr<TendonTables>& tendon_tables() const { return tendon_tables_; }

private:
    void condense(std::stop_token stop);

    part::Part part_;
    part::Mesh mesh_;
    std::unique_ptr<PartModel> model_;
    SparseFactor factor_;
    Eigen::MatrixXd flexibility_, of_loads_, of_strains_;
    Columns motions_;
    std::shared_ptr<TendonTables> tendon_tables_ = std::make_shared<TendonTables>();
    bool ok_ = false;
};

} // namespace holdtrue::distortion
