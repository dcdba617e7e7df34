#define HOLDTRUE_KERNEL baseline_kernel
#define HOLDTRUE_KERNEL_NAME "baseline"
#include "distortion/dense_kernel_body.h"
