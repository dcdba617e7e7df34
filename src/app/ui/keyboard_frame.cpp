#include "app/ui/keyboard_frame.h"

#include <GLFW/glfw3.h>
#include <imgui_internal.h>

#include <algorithm>

namespace holdtrue::app {

namespace {

bool begins_number(ImWchar letter) {
    return (letter >= '0' && letter <= '9') || letter == '.' || letter == ',' || letter == '-';
}

// Only what lies in the topmost dialog can be walked to while one is open; an open list keeps its own keys.
bool within_reach(const Placed& control) {
    const ImGuiWindow* dialog = ImGui::GetTopMostPopupModal();
    return control.stop && control.enabled && control.item != 0 &&
           (!dialog || control.window->RootWindow == dialog->RootWindow);
}

bool list_is_open() {
    const ImGuiContext& g = *ImGui::GetCurrentContext();
    return g.OpenPopupStack.Size > 0 && !ImGui::GetTopMostPopupModal();
}

} // namespace

void put_frame(const Placed& control) {
    ImGuiContext& g = *ImGui::GetCurrentContext();
    const ImRect place(control.low, control.high);
    ImGui::ClearActiveID();
    ImGui::FocusWindow(control.window);
    ImGui::SetNavID(control.item, ImGuiNavLayer_Main, 0, ImGui::WindowRectAbsToRel(control.window, place));
    g.NavDisableHighlight = false;
    g.NavDisableMouseHover = true;
    ImGui::ScrollToBringRectIntoView(control.window, place);
}

void KeyboardFrame::begin() {
    ImGuiContext& g = *ImGui::GetCurrentContext();
    ImVector<ImWchar>& letters = g.IO.InputQueueCharacters;
    if (opening_ != 0 || in_number_)
        std::replace(letters.begin(), letters.end(), ImWchar{','}, ImWchar{'.'});
    if (opening_ == 0)
        return;
    if (g.TempInputId == opening_ && g.ActiveId == opening_) {
        for (auto letter = typed_.rbegin(); letter != typed_.rend(); ++letter) // before what was typed since
            letters.insert(letters.begin(), *letter);
        opening_ = 0;
        typed_.clear();
    } else { // a field drops what comes in the frame in which it opens
        typed_.insert(typed_.end(), letters.begin(), letters.end());
        letters.resize(0);
    }
}

void KeyboardFrame::end(const Ui& ui, std::size_t bench) {
    ImGuiContext& g = *ImGui::GetCurrentContext();
    const auto first = ui.placed.begin(), last = ui.placed.end();
    const auto framed = std::find_if(first, last, [&](const Placed& control) {
        return control.item != 0 && control.item == g.NavId && control.window == g.NavWindow;
    });
    if (framed == last && !list_is_open())
        g.NavDisableHighlight = true; // the library frames whole sheets too
    const bool bare = !g.IO.KeyCtrl && !g.IO.KeyAlt && !g.IO.KeyShift;
    const bool entered = bare && (ImGui::IsKeyPressed(GLFW_KEY_ENTER) || ImGui::IsKeyPressed(GLFW_KEY_KP_ENTER));
    if (framed == last || framed->item != done_)
        done_ = 0;
    if (entered && in_number_ && framed != last && framed->number)
        done_ = framed->item;
    else if (entered && framed != last && !framed->number && !g.NavDisableHighlight && !was_active_ &&
             g.ActiveId == 0 && !list_is_open())
        ImGui::ActivateItem(framed->item); // the library leaves that to Space
    was_active_ = g.ActiveId != 0;
    in_number_ = g.ActiveId != 0 && std::any_of(first, last, [&](const Placed& control) {
                     return control.number && control.item == g.ActiveId;
                 });
    on_number_ =
        framed != last && framed->number && done_ == 0 && !g.NavDisableHighlight && !g.IO.KeyCtrl && !g.IO.KeyAlt;
    if (on_number_ && (g.ActiveId == 0 || opening_ != 0)) {
        for (const ImWchar letter : g.IO.InputQueueCharacters)
            if (begins_number(letter))
                typed_.push_back(letter == ',' ? ImWchar{'.'} : letter);
        if (!typed_.empty() && opening_ == 0) {
            ImGui::ActivateItem(framed->item);
            g.NavNextActivateFlags = ImGuiActivateFlags_PreferInput;
            opening_ = framed->item;
        }
    } else if (framed == last || framed->item != opening_) {
        opening_ = 0;
        typed_.clear();
    }
    if (!ImGui::IsKeyPressed(GLFW_KEY_TAB) || g.IO.KeyCtrl || g.IO.KeyAlt || list_is_open())
        return;

    // From the framed control, or from before the bench's first, to the next that can be reached.
    const int count = static_cast<int>(ui.placed.size()), step = g.IO.KeyShift ? -1 : 1;
    int at = framed != last ? static_cast<int>(framed - first) : static_cast<int>(bench) - (step > 0 ? 1 : 0);
    for (int tried = 0; tried < count; ++tried) {
        at = (at + step + count) % count;
        if (within_reach(ui.placed[static_cast<std::size_t>(at)]))
            return put_frame(ui.placed[static_cast<std::size_t>(at)]);
    }
}

} // namespace holdtrue::app
