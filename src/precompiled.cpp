#include "precompiled.h" // a target needs a source
