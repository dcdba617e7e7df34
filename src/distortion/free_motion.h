// Whether supports leave some piece of a mesh free to move as a rigid body.
//
// A rigid motion u = s + w x (x - c) meets a held displacement along e_k as e_k . s + (d x e_k) . w, d = x - c, and a
// held rotation as e_k . w. A piece (elements joined through nodes) is held if these rows, with w scaled by the size
// of the piece, have rank 6. Shells that share a node share its rotations, so that no other mechanism exists.
#pragma once

#include "distortion/shell_model.h"

#include <optional>
#include <span>
#include <string>

namespace holdtrue::distortion {

struct FreeMotion {
    int element = 0;   // one of the piece
    std::string words; // "shift along y", "turn about z": the axis that it follows most
};

// `fixed`: six per node, 1 for held. The first free piece by element, or none.
std::optional<FreeMotion> free_motion(const ShellMesh& mesh, std::span<const char> fixed);

} // namespace holdtrue::distortion
