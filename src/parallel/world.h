// The processes that this one was started with.
#pragma once

#include "parallel/communicator.h"

#include <memory>

namespace holdtrue::parallel {

// This process's number as mpirun tells it in the environment (OMPI_COMM_WORLD_RANK of Open MPI, PMIX_RANK of the
// PMIx standard for other launchers); 0 where nothing was launched so. Needs no MPI.
int launched_rank();

// Where mpirun has started this process, all that it has started; otherwise this process alone, and MPI is not touched.
// Call it once, with the signals blocked that all threads shall leave alone (command_line/interrupt.h): MPI starts
// threads of its own.
// Throws InputError where mpirun has started several, and this build has no MPI.
std::unique_ptr<Communicator> world();

} // namespace holdtrue::parallel
