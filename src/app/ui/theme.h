// The window's own look: paper and ink by day, slate and chalk by night, one accent. Every text colour reaches a
// contrast of 4.5 : 1 on every surface it is used on (WCAG 2.1, success criterion 1.4.3; a test computes it).
// What a colour says, a shape or a word says too.
#pragma once

#include "app/session/preferences.h"

#include <cstdint>

struct ImGuiStyle;

namespace holdtrue::app {

using Colour = std::uint32_t; // 0xAABBGGRR

struct Theme {
    Colour ground; // behind everything, the part too
    Colour sheet;  // of a card
    Colour raised; // of a button or field on a sheet
    Colour line;   // hairlines and borders of fields
    Colour ink;    // text
    Colour quiet;  // secondary text
    Colour accent; // the one accent: current bench, chosen thing, main button
    Colour on_accent;
    Colour accent_wash; // background of a chosen row
    Colour good, caution, bad;
    Colour metal, outline;          // of the part
    Colour bead, chalk, chalk_edge; // a pass in the plan; one not yet in it, as chalk on the sheet
};

Theme theme_of(Shade shade);
void apply(const Theme& theme, double scale, ImGuiStyle& style);

// Relative luminance contrast, 1 to 21.
double contrast(Colour a, Colour b);
Colour faded(Colour colour, double alpha);

} // namespace holdtrue::app
