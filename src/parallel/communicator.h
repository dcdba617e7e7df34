// The processes of one run, usually on several machines, as MPI counts them: size() processes, numbered by rank().
// All of them run the same command on the same input and take the same decisions; what one has computed, all get.
// Rank 0 leads: it alone prints and writes files.
#pragma once

#include <string>
#include <vector>

namespace holdtrue::parallel {

class Communicator {
public:
    virtual ~Communicator() = default;
    virtual int rank() const = 0;
    virtual int size() const = 0;
    // Processor cores that this process may fill with threads.
    virtual int cores() const = 0;
    // Collective: every rank calls it in the same sequence, from its main thread. [rank]: that rank's `own`.
    virtual std::vector<std::string> all_gather(const std::string& own) = 0;

    bool leads() const { return rank() == 0; }
};

// A process without others.
class SelfCommunicator final : public Communicator {
public:
    int rank() const override { return 0; }
    int size() const override { return 1; }
    int cores() const override;
    std::vector<std::string> all_gather(const std::string& own) override { return {own}; }
};

// Cores that the system lets this process run on.
int allowed_cores();

} // namespace holdtrue::parallel
