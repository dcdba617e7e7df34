// Condensed parts kept on disk, so that the next job on the same part begins at once. A file is named by a hash of all
// that decides its content (stiffness, rows, loads, where panels are held), so what changed is never taken for what
// was. A file that is damaged, of another kind of machine or cannot be written is as if it were not there.
#pragma once

#include "distortion/part_model.h"

#include <cstdint>
#include <filesystem>
#include <vector>

namespace holdtrue::distortion {

// $XDG_CACHE_HOME/holdtrue, or below ~/.cache; empty where there is neither.
std::filesystem::path usual_store();

std::uint64_t hash_of(const PartModel& model);

class CondensedStore {
public:
    // An empty folder keeps nothing. The oldest files go when there are more than `most`.
    explicit CondensedStore(std::filesystem::path folder, std::size_t most = 12)
        : folder_(std::move(folder)), most_(most) {}

    // Fills matrices of these sizes; false, and nothing changed, if they are not there.
    bool load(std::uint64_t key, const std::vector<Eigen::MatrixXd*>& matrices) const;
    void save(std::uint64_t key, const std::vector<const Eigen::MatrixXd*>& matrices) const;

private:
    std::filesystem::path file_of(std::uint64_t key) const;

    std::filesystem::path folder_;
    std::size_t most_;
};

} // namespace holdtrue::distortion
