#include "distortion/condensed_part.h"

#include "text/verify.h"

namespace holdtrue::distortion {

CondensedPart::CondensedPart(const part::Part& part, const part::Mesh& mesh, const PartModelSettings& settings,
                             std::stop_token stop, const CondensedStore& store)
    : part_(part), mesh_(mesh) {
    model_ = std::make_unique<PartModel>(part_, mesh_, settings);
    factor_ = SparseFactor(model_->held_stiffness());
    VERIFY(factor_.ok(), "six unknowns hold a panel");
    motions_ = model_->rows().of_unknowns * model_->motions();
    const int row_count = model_->row_count();
    flexibility_.resize(row_count, row_count);
    of_loads_.resize(row_count, model_->load_count());
    of_strains_.resize(row_count, model_->node_count());
    const std::uint64_t key = hash_of(*model_);
    ok_ = store.load(key, {&flexibility_, &of_loads_, &of_strains_});
    if (ok_)
        return;
    condense(std::move(stop));
    if (ok_)
        store.save(key, {&flexibility_, &of_loads_, &of_strains_});
}

void CondensedPart::condense(std::stop_token stop) {
    const PartModel& model = *model_;
    const auto& rows = model.rows().of_unknowns;
    const int row_count = model.row_count(), unknowns = model.shell().unknown_count();
    const SparseMatrix loads_transposed = model.loads().transpose();

    // A few rows at a time: z = K^-1 b is used for everything that row is asked about, then dropped.
    constexpr int width = 16;
    for (int first = 0; first < row_count; first += width) {
        if (stop.stop_requested())
            return;
        const int count = std::min(width, row_count - first);
        Columns z = Columns::Zero(unknowns, count);
        for (int c = 0; c < count; ++c)
            for (Eigen::SparseMatrix<double, Eigen::RowMajor>::InnerIterator at(rows, first + c); at; ++at)
                z(at.col(), c) = at.value();
        for (const int held : model.held_unknowns())
            z.row(held).setZero();
        factor_.solve_in_place(z);

        flexibility_.middleCols(first, count) = rows * z;
        of_loads_.middleRows(first, count) = (loads_transposed * z).transpose();
        Columns heat = Columns::Zero(model.node_count(), count);
        for (int e = 0; e < model.shell().element_count(); ++e) {
            Eigen::Matrix<double, 1, Eigen::Dynamic, Eigen::RowMajor, 1, width> work =
                Eigen::Matrix<double, 1, Eigen::Dynamic, Eigen::RowMajor, 1, width>::Zero(count);
            const ElementVector& force = model.thermal_force(e);
            for (int i = 0; i < 24; ++i)
                work += force[i] * z.row(6 * model.shell().nodes_of(e)[static_cast<std::size_t>(i / 6)] + i % 6);
            for (const int node : model.shell().nodes_of(e))
                heat.row(node) += 0.25 * work;
        }
        of_strains_.middleRows(first, count) = heat.transpose();
    }
    of_strains_ += model.rows().of_strains;
    ok_ = true;
}

std::size_t CondensedPart::bytes() const {
    const auto dense = flexibility_.size() + of_loads_.size() + of_strains_.size() + motions_.size();
    return static_cast<std::size_t>(dense) * sizeof(double) + factor_.nonzeros() * (sizeof(double) + sizeof(int));
}

} // namespace holdtrue::distortion
