// The standard library and Eigen, parsed once for the whole build (CMakeLists.txt adds it in front of every source). It
// saves time and nothing else: each file includes what it uses, and -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON builds without.
#pragma once

#include <Eigen/Dense>
#include <Eigen/SparseCore>

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <limits>
#include <map>
#include <memory>
#include <mutex>
#include <numbers>
#include <numeric>
#include <optional>
#include <set>
#include <span>
#include <sstream>
#include <stdexcept>
#include <stop_token>
#include <string>
#include <string_view>
#include <thread>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>
