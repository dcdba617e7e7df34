// Communicator over MPI_COMM_WORLD. One at a time in a process, and only once.
#pragma once

#include "parallel/communicator.h"

namespace holdtrue::parallel {

class MpiCommunicator final : public Communicator {
public:
    MpiCommunicator();
    ~MpiCommunicator() override; // waits for the other ranks
    MpiCommunicator(const MpiCommunicator&) = delete;
    MpiCommunicator& operator=(const MpiCommunicator&) = delete;

    int rank() const override { return rank_; }
    int size() const override { return size_; }
    int cores() const override { return cores_; }
    std::vector<std::string> all_gather(const std::string& own) override;

private:
    int rank_ = 0, size_ = 1, cores_ = 1;
};

} // namespace holdtrue::parallel
