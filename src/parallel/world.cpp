#include "parallel/world.h"

#ifdef HOLDTRUE_MPI
#include "parallel/mpi_communicator.h"
#else
#include "text/input_error.h"
#endif

#include <cstdlib>

namespace holdtrue::parallel {
namespace {

int number_in(const char* variable, int otherwise) {
    const char* text = std::getenv(variable);
    return text && *text ? std::atoi(text) : otherwise;
}

} // namespace

int launched_rank() { return number_in("OMPI_COMM_WORLD_RANK", number_in("PMIX_RANK", 0)); }

std::unique_ptr<Communicator> world() {
#ifdef HOLDTRUE_MPI
    if (std::getenv("OMPI_COMM_WORLD_SIZE") || std::getenv("PMIX_RANK"))
        return std::make_unique<MpiCommunicator>();
#else
    if (number_in("OMPI_COMM_WORLD_SIZE", 1) > 1)
        throw text::InputError(
            "", 0, text::in_english("started by mpirun, but this build cannot share its work over processes"),
            text::in_english("build it where libopenmpi-dev is installed, or start it without mpirun"));
#endif
    return std::make_unique<SelfCommunicator>();
}

} // namespace holdtrue::parallel
