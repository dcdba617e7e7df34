#define HOLDTRUE_KERNEL avx2_kernel
#define HOLDTRUE_KERNEL_NAME "avx2"
#include "distortion/dense_kernel_body.h"
