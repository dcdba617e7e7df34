// The window's contents without a window: real widgets, with mouse and keys put in by hand, one frame at a time.
#pragma once

#include "app/shell.h"
#include "app/shortcuts.h"
#include "app/ui/keyboard_frame.h"
#include "exercises.h"

#include <GLFW/glfw3.h>
#include <doctest/doctest.h>
#include <imgui.h>

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

namespace holdtrue::app::test {

class Screen {
public:
    explicit Screen(const Places& places, float width = 1280, float height = 800, double scale = 1)
        : session(places), scale_(scale) {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.DisplaySize = {width, height};
        io.DeltaTime = 1.0f / 60;
        io.MouseDragThreshold = 3;
        fonts_ = load_fonts(*io.Fonts, scale);
        unsigned char* pixels = nullptr;
        int w = 0, h = 0;
        io.Fonts->GetTexDataAsRGBA32(&pixels, &w, &h);
        io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard; // as in desktop.cpp
        for (const auto& [named, key] : {std::pair{ImGuiKey_UpArrow, GLFW_KEY_UP},
                                         {ImGuiKey_DownArrow, GLFW_KEY_DOWN},
                                         {ImGuiKey_LeftArrow, GLFW_KEY_LEFT},
                                         {ImGuiKey_RightArrow, GLFW_KEY_RIGHT},
                                         {ImGuiKey_Enter, GLFW_KEY_ENTER},
                                         {ImGuiKey_Space, GLFW_KEY_SPACE}})
            io.KeyMap[named] = key;
        theme_ = theme_of(Shade::light);
        app::apply(theme_, scale, ImGui::GetStyle());
        frames(3);
    }
    ~Screen() { ImGui::DestroyContext(); }
    Screen(const Screen&) = delete;
    Screen& operator=(const Screen&) = delete;

    void frame() {
        session.take_finished();
        leave_keys_to_shortcuts(session);
        ImGui::NewFrame();
        Ui ui{theme_, fonts_, translation, session.preferences().units, static_cast<float>(scale_), nullptr, {}};
        draw_shell(ui, session, state, actions);
        ImGui::Render();
        placed = std::move(ui.placed);
        part_seen = ui.part_seen;
        last_actions = std::exchange(actions, {});
        for (const Action& action : last_actions)
            session.apply(action);
    }
    void frames(int count) {
        for (int k = 0; k < count; ++k)
            frame();
    }
    void open(const std::filesystem::path& file) {
        session.apply(act::Open{file});
        REQUIRE(session.problems().empty());
        frames(3);
    }
    bool shows(const std::string& label) const { return find(label) != placed.end(); }
    void move_to(float x, float y) {
        ImGui::GetIO().MousePos = {x, y};
        frame();
    }
    void press_mouse() {
        ImGui::GetIO().MouseDown[0] = true;
        frame();
        ImGui::GetIO().MouseDown[0] = false;
        frames(2);
    }
    void click(const std::string& label) {
        const auto place = find(label);
        INFO(label);
        REQUIRE(place != placed.end());
        CHECK(place->enabled);
        CHECK(place->in_sight);
        move_to((place->low.x + place->high.x) / 2, (place->low.y + place->high.y) / 2);
        press_mouse();
    }
    // Where a place of the part is on the screen.
    ImVec2 place_of(const part::Point& point) const {
        REQUIRE(part_seen);
        const auto seen = part_seen->projection.to_screen(point);
        return {part_seen->origin.x + static_cast<float>(seen.x_px),
                part_seen->origin.y + static_cast<float>(seen.y_px)};
    }
    void press_key(int key, bool ctrl = false, bool shift = false, bool alt = false) {
        ImGuiIO& io = ImGui::GetIO();
        io.KeyCtrl = ctrl, io.KeyShift = shift, io.KeyAlt = alt;
        io.KeysDown[key] = true;
        frame();
        io.KeysDown[key] = false;
        io.KeyCtrl = io.KeyShift = io.KeyAlt = false;
        frame();
    }
    std::vector<Placed>::const_iterator find(const std::string& label) const {
        return std::ranges::find(placed, label, &Placed::label);
    }

    Session session;
    ShellState state;
    Actions actions, last_actions;
    std::vector<Placed> placed;
    std::optional<SeenPart> part_seen;
    text::Translation translation;

private:
    double scale_;
    Theme theme_;
    Fonts fonts_;
};

// The label of the control in the keyboard's frame; empty: none.
inline std::string framed(const Screen& screen) {
    for (const Placed& control : screen.placed)
        if (has_frame(control))
            return control.label;
    return {};
}

} // namespace holdtrue::app::test
