#include "distortion/condensed_store.h"

#include "text/atomic_file.h"
#include "text/input_error.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>

namespace holdtrue::distortion {

namespace {

namespace fs = std::filesystem;

// A machine that writes numbers otherwise reads another mark.
constexpr std::uint64_t file_mark = 0x31444e4f43544c48ull;

// FNV-1a (Fowler, Noll & Vo) over words of eight bytes.
class Hash {
public:
    void add(const void* data, std::size_t bytes) {
        const char* at = static_cast<const char*>(data);
        for (; bytes >= 8; bytes -= 8, at += 8) {
            std::uint64_t word;
            std::memcpy(&word, at, 8);
            mix(word);
        }
        std::uint64_t rest = 0;
        std::memcpy(&rest, at, bytes);
        mix(rest);
    }
    std::uint64_t value() const { return value_; }

private:
    void mix(std::uint64_t word) {
        value_ = (value_ ^ word) * 0x100000001b3ull;
        value_ ^= value_ >> 29;
    }
    std::uint64_t value_ = 0xcbf29ce484222325ull;
};

template <class Sparse>
void add_sparse(Hash& hash, const Sparse& matrix) {
    const std::array<std::int64_t, 3> sizes{matrix.rows(), matrix.cols(), matrix.nonZeros()};
    hash.add(sizes.data(), sizeof sizes);
    const auto count = static_cast<std::size_t>(matrix.nonZeros());
    hash.add(matrix.valuePtr(), count * sizeof(double));
    hash.add(matrix.innerIndexPtr(), count * sizeof(*matrix.innerIndexPtr()));
}

std::size_t bytes_of(const Eigen::MatrixXd& matrix) { return static_cast<std::size_t>(matrix.size()) * sizeof(double); }

} // namespace

fs::path usual_store() {
    if (const char* base = std::getenv("XDG_CACHE_HOME"); base && fs::path(base).is_absolute())
        return fs::path(base) / "holdtrue";
    if (const char* home = std::getenv("HOME"); home && *home)
        return fs::path(home) / ".cache" / "holdtrue";
    return {};
}

std::uint64_t hash_of(const PartModel& model) {
    Hash hash;
    add_sparse(hash, model.held_stiffness());
    add_sparse(hash, model.loads());
    add_sparse(hash, model.rows().of_unknowns);
    add_sparse(hash, model.rows().of_strains);
    for (int e = 0; e < model.shell().element_count(); ++e)
        hash.add(model.thermal_force(e).data(), sizeof(double) * 24);
    hash.add(model.held_unknowns().data(), model.held_unknowns().size() * sizeof(int));
    return hash.value();
}

fs::path CondensedStore::file_of(std::uint64_t key) const {
    char name[40];
    std::snprintf(name, sizeof name, "part-%016llx.condensed", static_cast<unsigned long long>(key));
    return folder_ / name;
}

bool CondensedStore::load(std::uint64_t key, const std::vector<Eigen::MatrixXd*>& matrices) const {
    if (folder_.empty())
        return false;
    std::ifstream in(file_of(key), std::ios::binary);
    std::array<std::uint64_t, 2> head{};
    if (!in.read(reinterpret_cast<char*>(head.data()), sizeof head) || head[0] != file_mark)
        return false;
    std::vector<Eigen::MatrixXd> read;
    Hash hash;
    for (const Eigen::MatrixXd* matrix : matrices) {
        Eigen::MatrixXd& own = read.emplace_back(matrix->rows(), matrix->cols());
        if (!in.read(reinterpret_cast<char*>(own.data()), static_cast<std::streamsize>(bytes_of(own))))
            return false;
        hash.add(own.data(), bytes_of(own));
    }
    if (hash.value() != head[1] || in.peek() != std::ifstream::traits_type::eof())
        return false;
    for (std::size_t k = 0; k < matrices.size(); ++k)
        *matrices[k] = std::move(read[k]);
    std::error_code ignored; // used now: not among the oldest
    fs::last_write_time(file_of(key), fs::file_time_type::clock::now(), ignored);
    return true;
}

void CondensedStore::save(std::uint64_t key, const std::vector<const Eigen::MatrixXd*>& matrices) const {
    if (folder_.empty())
        return;
    Hash hash;
    for (const Eigen::MatrixXd* matrix : matrices)
        hash.add(matrix->data(), bytes_of(*matrix));
    const std::array<std::uint64_t, 2> head{file_mark, hash.value()};
    std::string content(reinterpret_cast<const char*>(head.data()), sizeof head);
    for (const Eigen::MatrixXd* matrix : matrices)
        content.append(reinterpret_cast<const char*>(matrix->data()), bytes_of(*matrix));
    std::error_code ignored;
    fs::create_directories(folder_, ignored);
    try {
        text::write_atomically(file_of(key), content);
    } catch (const text::InputError&) {
        return; // full, or not ours to write: the work is done again next time
    }
    std::vector<std::pair<fs::file_time_type, fs::path>> files;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder_, ignored))
        if (entry.path().extension() == ".condensed")
            files.emplace_back(entry.last_write_time(ignored), entry.path());
    std::ranges::sort(files);
    for (std::size_t k = 0; k + most_ < files.size(); ++k)
        fs::remove(files[k].second, ignored);
}

} // namespace holdtrue::distortion
