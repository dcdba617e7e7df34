#include "parallel/communicator.h"

#include <sched.h>

#include <algorithm>
#include <thread>

namespace holdtrue::parallel {

int SelfCommunicator::cores() const { return allowed_cores(); }

int allowed_cores() {
    cpu_set_t allowed;
    CPU_ZERO(&allowed);
    const int online = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
    if (::sched_getaffinity(0, sizeof allowed, &allowed) != 0) // also on machines of more cores than the set can hold
        return online;
    return std::clamp(CPU_COUNT(&allowed), 1, online);
}

} // namespace holdtrue::parallel
