#define HOLDTRUE_KERNEL avx512_kernel
#define HOLDTRUE_KERNEL_NAME "avx512"
#include "distortion/dense_kernel_body.h"
