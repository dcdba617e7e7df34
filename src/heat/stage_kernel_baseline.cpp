#define HOLDTRUE_KERNEL baseline_kernel
#define HOLDTRUE_KERNEL_NAME "baseline"
#include "heat/stage_kernel_body.h"
