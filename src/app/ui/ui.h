// What every bench draws with: colours, fonts, words, units, and a note of where each control was put, by which tests
// and scripts find it.
#pragma once

#include "app/scene/camera.h"
#include "app/session/actions.h"
#include "app/session/session.h"
#include "app/ui/fonts.h"
#include "app/ui/theme.h"
#include "text/translate.h"

#include <imgui.h>

#include <optional>
#include <string>
#include <vector>

struct ImGuiWindow;

namespace holdtrue::app {

class Painter; // part_view.h

struct Placed {
    std::string label; // in English, as in the code
    ImVec2 low, high;
    bool enabled = true;
    bool in_sight = true; // its middle is not scrolled away
    ImGuiID item = 0;     // 0: a text
    ImGuiWindow* window = nullptr;
    bool stop = true;    // of the Tab key
    bool number = false; // that can be typed into
    bool sheet = false;  // which keys scroll if it holds no control
};

struct SeenPart {
    scene::Projection projection;
    ImVec2 origin; // of the view, on the screen
};

// Of the control in the keyboard's frame, shown when all controls have their places (keyboard_frame.h).
struct FrameTip {
    std::string text;
    float width = 0;  // that it may take
    ImVec2 low, high; // of the control
};

struct Ui {
    const Theme& theme;
    const Fonts& fonts;
    const text::Translation& translation;
    units::System units = units::System::metric;
    float scale = 1;
    Painter* painter = nullptr; // none in tests without OpenGL
    std::vector<Placed> placed; // of this frame
    std::optional<SeenPart> part_seen = {}; // in the first view of the part of this frame
    std::optional<FrameTip> frame_tip = {};

    const char* tr(const char* english) const { return translation(english); }
    const char* tr(const std::string& of_file) const { return translation(of_file.c_str()); } // lives as long as it
    std::string words(const Sentence& sentence) const;
    float px(float at_scale_one) const { return at_scale_one * scale; }
};

// Controls (controls.cpp, fields.cpp). `english` is translated here; a reason disables the control and is its tooltip.
enum class Weight { plain, main, quiet };
bool button(Ui& ui, const char* english, Weight weight = Weight::plain, const std::optional<Sentence>& why_not = {},
            const char* shortcut = nullptr);
// A button that asks the session whether its action is possible, and adds it when pressed.
void action_button(Ui& ui, const Session& session, Actions& out, const char* english, const Action& action,
                   Weight weight = Weight::plain, const char* shortcut = nullptr);
// A row of words of which one is chosen; returns the new choice, or nothing.
std::optional<int> choice(Ui& ui, const char* id, const std::vector<const char*>& english, int chosen);
bool check(Ui& ui, const char* english, bool on);
bool radio(Ui& ui, const char* english, bool on);
// A row to choose whose text takes as many lines as it needs. `height`: of what stands beside it, if that takes more.
bool wrapped_row(Ui& ui, const std::string& text, bool chosen, ImGuiSelectableFlags flags = 0, float height = 0);
// Puts the next button on the same line if its label has room there.
void same_line_if_room(const Ui& ui, const char* label);
// Puts the next button, or the next thing of a width, at the right edge of this line.
void same_line_right(const Ui& ui, const char* label);
void same_line_ending_at_right(float width);
// What the item just drawn says when it is pointed at or framed: beside the pointer, or clear of what the frame can go to.
void tip(Ui& ui, const std::string& text, float width_px = 320);
void draw_tip(const Ui& ui, const FrameTip& tip);
std::string key_words(const Ui& ui, std::string_view keys); // "Ctrl+Home" as keyboards of the language are labelled
// A quantity with its unit and range: a slider that can be typed into (Ctrl-click or Enter), with steps at its sides.
bool quantity_field(Ui& ui, const char* english, double& si, const units::Dimension& dimension, double low_si,
                    double high_si, double step_shown);
bool number_field(Ui& ui, const char* english, double& value, const char* format, double low, double high, double step);

// Words (written.cpp), and signs and sheets (sheet.cpp)
void heading(Ui& ui, const char* english);
void title(Ui& ui, const std::string& text);
void quiet_text(Ui& ui, const std::string& text); // wrapped
void wrapped(Ui& ui, const std::string& text);
void label_value(Ui& ui, const Sentence& label, const std::string& figure);
// A tick, a triangle or a cross in its colour, as high as a line of text.
void verdict_sign(Ui& ui, grading::Verdict verdict);
Colour colour_of(const Theme& theme, grading::Verdict verdict);
void share_bar(Ui& ui, double share, Colour colour, float height_px);

// A sheet of paper on the ground, with a margin; size 0: the rest.
void begin_sheet(Ui& ui, const char* id, ImVec2 size, bool scrolls = true);
void end_sheet();
// The scrolling part of a sheet that has one row of buttons at its foot; ends with end_sheet().
void begin_above_footer(const char* id);

// Where things are (placed.cpp)
void note(Ui& ui, const char* english, bool enabled = true); // the item just drawn
void pass_by(Ui& ui);                                        // the item just noted is no stop of the Tab key
void note_row(Ui& ui,
              const char* english); // a row of a table that was drawn in its first column: what of it lies there

} // namespace holdtrue::app
