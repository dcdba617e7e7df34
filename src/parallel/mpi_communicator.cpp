#include "parallel/mpi_communicator.h"

#include <mpi.h>

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <thread>

namespace holdtrue::parallel {
namespace {

// Waits for all ranks. MPI's own waiting keeps a core busy, which another rank on this machine may need.
void meet() {
    MPI_Request request;
    MPI_Ibarrier(MPI_COMM_WORLD, &request);
    for (int met = 0;;) {
        MPI_Test(&request, &met, MPI_STATUS_IGNORE);
        if (met)
            return;
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
}

// Ranks on this machine.
int ranks_here() {
    MPI_Comm here;
    MPI_Comm_split_type(MPI_COMM_WORLD, MPI_COMM_TYPE_SHARED, 0, MPI_INFO_NULL, &here);
    int count = 1;
    MPI_Comm_size(here, &count);
    MPI_Comm_free(&here);
    return count;
}

} // namespace

// An error inside MPI ends all ranks: that is its default, and nothing here could go on without the others.
MpiCommunicator::MpiCommunicator() {
    int provided = 0;
    MPI_Init_thread(nullptr, nullptr, MPI_THREAD_FUNNELED, &provided);
    MPI_Comm_rank(MPI_COMM_WORLD, &rank_);
    MPI_Comm_size(MPI_COMM_WORLD, &size_);
    // mpirun may tie a rank to some of the cores; where it does not, the ranks of a machine part them among themselves.
    const int online = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
    cores_ = std::min(allowed_cores(), std::max(1, online / ranks_here()));
}

MpiCommunicator::~MpiCommunicator() {
    meet();
    MPI_Finalize();
}

std::vector<std::string> MpiCommunicator::all_gather(const std::string& own) {
    meet();
    std::vector<std::uint64_t> sizes(static_cast<std::size_t>(size_));
    const std::uint64_t own_size = own.size();
    MPI_Allgather(&own_size, 1, MPI_UINT64_T, sizes.data(), 1, MPI_UINT64_T, MPI_COMM_WORLD);
    std::vector<std::string> all(sizes.size());
    constexpr std::size_t longest = std::size_t{1} << 30; // MPI counts bytes in an int
    for (int from = 0; from < size_; ++from) {
        std::string& text = all[static_cast<std::size_t>(from)];
        if (from == rank_)
            text = own;
        else
            text.resize(sizes[static_cast<std::size_t>(from)]);
        for (std::size_t at = 0; at < text.size(); at += longest)
            MPI_Bcast(text.data() + at, static_cast<int>(std::min(longest, text.size() - at)), MPI_CHAR, from,
                      MPI_COMM_WORLD);
    }
    return all;
}

} // namespace holdtrue::parallel
