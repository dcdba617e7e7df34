// GLSL of the 3D picture.
#pragma once

namespace holdtrue::app::gl {

// Light comes from the eye and a little from above, so that no face is ever black; a field is shaded less than bare
// metal, for its colours must stay readable. Faces are small and nearly flat, so light and place on the scale are found
// at their corners: software OpenGL pays for each pixel.
inline constexpr const char* surface_vertex = R"(#version 330 core
layout(location = 0) in vec3 position;
layout(location = 1) in vec3 normal;
layout(location = 2) in float value;
uniform mat4 view_from_part, clip_from_view;
uniform bool show_field;
uniform float low, high, entries;
out float light;
out float shown;
out float entry; // of the scale
void main() {
    vec4 seen = view_from_part * vec4(position, 1.0);
    vec3 n = normalize(mat3(view_from_part) * normal);
    float facing = abs(dot(n, normalize(-seen.xyz)));
    float above = 0.5 + 0.5 * n.y;
    light = show_field ? 0.72 + 0.20 * facing + 0.08 * above : 0.50 + 0.32 * facing + 0.22 * above;
    shown = value;
    entry = (value - low) / (high - low) * (entries - 1.0) + 0.5;
    gl_Position = clip_from_view * seen;
}
)";

inline constexpr const char* metal_fragment = R"(#version 330 core
in float light;
uniform vec3 metal;
out vec4 colour;
void main() { colour = vec4(metal * light, 1.0); }
)";

inline constexpr const char* field_fragment = R"(#version 330 core
in float light;
in float entry;
uniform float entries;
uniform sampler2D scale;
out vec4 colour;
void main() {
    vec3 base = texelFetch(scale, ivec2(int(clamp(entry, 0.5, entries - 0.5)), 0), 0).rgb;
    colour = vec4(base * light, 1.0);
}
)";

// The field, with lines of equal value over it.
inline constexpr const char* isoline_fragment = R"(#version 330 core
in float light;
in float shown;
in float entry;
uniform float entries;
uniform sampler2D scale;
uniform float isolines[8];
uniform int isoline_count;
uniform vec3 isoline_colour;
out vec4 colour;
void main() {
    vec3 base = texelFetch(scale, ivec2(int(clamp(entry, 0.5, entries - 0.5)), 0), 0).rgb;
    float nearest = 1e9;
    for (int k = 0; k < isoline_count; ++k)
        nearest = min(nearest, abs(shown - isolines[k]));
    float line = 1.0 - smoothstep(0.35, 1.0, nearest / max(fwidth(shown), 1e-4));
    base = mix(base, isoline_colour, 0.7 * line);
    colour = vec4(base * light, 1.0);
}
)";

// Four vertices per segment, all alike: which corner of its strip each is comes from its number.
inline constexpr const char* line_vertex = R"(#version 330 core
layout(location = 0) in vec3 a;
layout(location = 1) in vec3 b;
layout(location = 2) in vec4 tint;
layout(location = 3) in float width_px;
layout(location = 4) in float lift;
uniform mat4 view_from_part, clip_from_view;
uniform vec2 view_px;
out vec4 line_tint;
out vec2 across_along; // [px] from the middle line, and beyond the ends
flat out vec2 half_size; // half width, length
void main() {
    vec4 va = view_from_part * vec4(a, 1.0), vb = view_from_part * vec4(b, 1.0);
    va.xyz *= 1.0 - lift;
    vb.xyz *= 1.0 - lift;
    vec4 ca = clip_from_view * va, cb = clip_from_view * vb;
    bool behind = ca.w <= 0.0 || cb.w <= 0.0;
    vec2 sa = ca.xy / ca.w * 0.5 * view_px, sb = cb.xy / cb.w * 0.5 * view_px;
    vec2 along = sb - sa;
    float length_px = length(along);
    along = length_px > 1e-4 ? along / length_px : vec2(1.0, 0.0);
    vec2 side = vec2(-along.y, along.x);
    float half_px = 0.5 * width_px + 0.5; // with the soft edge
    float s = (gl_VertexID & 1) == 0 ? -1.0 : 1.0;
    bool at_b = (gl_VertexID & 2) != 0;
    vec4 at = at_b ? cb : ca;
    vec2 offset = side * s * half_px + along * (at_b ? half_px : -half_px);
    at.xy += offset / (0.5 * view_px) * at.w;
    gl_Position = behind ? vec4(2.0, 2.0, 2.0, 1.0) : at;
    line_tint = tint;
    across_along = vec2(s * half_px, at_b ? length_px + half_px : -half_px);
    half_size = vec2(0.5 * width_px, length_px);
}
)";

inline constexpr const char* line_fragment = R"(#version 330 core
in vec4 line_tint;
in vec2 across_along;
flat in vec2 half_size;
out vec4 colour;
void main() {
    float beyond = max(max(-across_along.y, across_along.y - half_size.y), 0.0);
    float distance = length(vec2(across_along.x, beyond));
    float cover = clamp(half_size.x + 0.5 - distance, 0.0, 1.0);
    colour = vec4(line_tint.rgb, line_tint.a * cover);
}
)";

} // namespace holdtrue::app::gl
