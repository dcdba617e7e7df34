#include "app/ui/keyboard_frame.h"

#include <GLFW/glfw3.h>
#define IMGUI_DEFINE_MATH_OPERATORS
#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <utility>

namespace holdtrue::app {

namespace {

bool begins_number(ImWchar letter) {
    return (letter >= '0' && letter <= '9') || letter == '.' || letter == ',' || letter == '-';
}

// Only what lies in the topmost dialog can be walked to while one is open; an open list keeps its own keys.
bool within_reach(const Ui& ui, const Placed& control) {
    const ImGuiWindow* dialog = ImGui::GetTopMostPopupModal();
    if (!control.stop || !control.enabled || control.item == 0 ||
        (dialog && control.window->RootWindow != dialog->RootWindow))
        return false;
    // The library scrolls a window by keys if nothing in it can be framed.
    return !control.sheet ||
           (control.window->ScrollMax.y > 0 && std::ranges::none_of(ui.placed, [&](const Placed& other) {
                return !other.sheet && other.item != 0 && other.window == control.window;
            }));
}

// Below the control, else above it or beside it: where least of what the frame can go to is covered.
ImVec2 place_of_tip(const Ui& ui, const FrameTip& tip) {
    const ImVec2 screen = ImGui::GetIO().DisplaySize, text = ui.fonts.text->CalcTextSizeA(
        ui.fonts.text->FontSize, FLT_MAX, tip.width, tip.text.c_str());
    const ImVec2 size = text + ImGui::GetStyle().WindowPadding * 2;
    const float gap = ui.px(6), ending_with_it = tip.high.x - size.x, above = tip.low.y - gap - size.y;
    const auto on_screen = [&](ImVec2 at) {
        return ImVec2(std::max(std::min(at.x, screen.x - size.x), 0.0f),
                      std::max(std::min(at.y, screen.y - size.y), 0.0f));
    };
    const auto covered = [&](ImVec2 at) {
        const ImRect box(at, at + size);
        float sum = 0;
        for (const Placed& other : ui.placed) {
            if (!other.enabled || other.item == 0 || other.sheet || !other.in_sight)
                continue;
            ImRect shared(other.low, other.high);
            const float area = shared.GetArea();
            if (!shared.Overlaps(box))
                continue;
            shared.ClipWith(box);
            sum += shared.GetArea() / area;
        }
        return sum;
    };
    std::array places{ImVec2(tip.low.x, tip.high.y + gap),      ImVec2(tip.low.x, above),
                      ImVec2(ending_with_it, tip.high.y + gap), ImVec2(ending_with_it, above),
                      ImVec2(tip.high.x + gap, tip.low.y),      ImVec2(tip.low.x - gap - size.x, tip.low.y)};
    std::ranges::transform(places, places.begin(), on_screen);
    return *std::ranges::min_element(places, {}, covered);
}

bool list_is_open() {
    const ImGuiContext& g = *ImGui::GetCurrentContext();
    return g.OpenPopupStack.Size > 0 && !ImGui::GetTopMostPopupModal();
}

} // namespace

bool has_frame(const Placed& control) {
    const ImGuiContext& g = *ImGui::GetCurrentContext();
    return !g.NavDisableHighlight && control.item != 0 && control.item == g.NavId && control.window == g.NavWindow;
}

void put_frame(const Placed& control) {
    ImGuiContext& g = *ImGui::GetCurrentContext();
    const ImRect place(control.low, control.high);
    ImGui::ClearActiveID();
    ImGui::FocusWindow(control.window);
    ImGui::SetNavID(control.item, ImGuiNavLayer_Main, 0, ImGui::WindowRectAbsToRel(control.window, place));
    g.NavDisableHighlight = false;
    g.NavDisableMouseHover = true;
    if (!control.sheet)
        ImGui::ScrollToBringRectIntoView(control.window, place);
}

void KeyboardFrame::begin() {
    ImGuiContext& g = *ImGui::GetCurrentContext();
    g.NavWindowingToggleLayer = false; // the library would take the frame to a menu bar when Alt goes up
    ImVector<ImWchar>& letters = g.IO.InputQueueCharacters;
    if (opening_ != 0 || in_number_)
        std::replace(letters.begin(), letters.end(), ImWchar{','}, ImWchar{'.'});
    if (g.NavMoveSubmitted)
        read_on();
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

KeyboardFrame::Reading KeyboardFrame::text_about(const Ui& ui, const Placed& framed) {
    const ImGuiWindow& sheet = *framed.window;
    const ImRect seen = sheet.InnerRect;
    Reading about;
    about.page = seen.GetHeight() - 2 * ui.fonts.text->FontSize;
    about.in_sight = framed.in_sight;
    about.below.left = sheet.ScrollMax.y - sheet.Scroll.y;
    about.above.left = sheet.Scroll.y;
    for (const Placed& other : ui.placed)
        if (other.window == framed.window && other.enabled && other.item != 0 && !other.sheet) {
            if (other.low.y >= framed.high.y)
                about.below.next = std::min(about.below.next, other.high.y - seen.Max.y);
            else if (other.high.y <= framed.low.y)
                about.above.next = std::min(about.above.next, seen.Min.y - other.low.y);
        }
    return about;
}

// In place of a move of the frame that would pass over text: an arrow scrolls until the next control is no more than a
// page away; PageDown leaves the frame behind, and goes on for as long as it is out of sight.
void KeyboardFrame::read_on() {
    ImGuiContext& g = *ImGui::GetCurrentContext();
    const bool down = g.NavMoveClipDir == ImGuiDir_Down, to_edge = g.NavMoveFlags & ImGuiNavMoveFlags_ScrollToEdgeY;
    if (!reading_ || !g.NavWindow || to_edge || !(down || g.NavMoveClipDir == ImGuiDir_Up))
        return;
    const bool by_page = g.NavMoveFlags & ImGuiNavMoveFlags_AlsoScoreVisibleSet;
    const auto& [next, left] = down ? reading_->below : reading_->above;
    const bool unread = next > reading_->page;
    if (by_page ? !unread && reading_->in_sight : !unread || left == 0)
        return;
    const float step = std::min(reading_->page, left);
    ImGui::NavMoveRequestCancel();
    ImGui::SetScrollY(g.NavWindow, g.NavWindow->Scroll.y + (down ? step : -step));
}

void KeyboardFrame::end(const Ui& ui, const Session& session, std::size_t first_of_bench) {
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
    else if (bare && list_is_open() && g.NavId != 0 && !was_active_ && g.ActiveId == 0 &&
             (ImGui::IsKeyPressed(GLFW_KEY_ENTER, false) || ImGui::IsKeyPressed(GLFW_KEY_KP_ENTER, false)))
        ImGui::ActivateItem(g.NavId); // what the list itself has in the frame
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
    if (framed != last && framed->sheet && !g.NavDisableHighlight) // the library frames items only
        ImGui::GetForegroundDrawList()->AddRect(framed->low, framed->high, ui.theme.accent, g.Style.ChildRounding, 0,
                                                ui.px(2));
    reading_.reset();
    if (framed != last && !framed->sheet && !g.NavDisableHighlight && !list_is_open())
        reading_ = text_about(ui, *framed);
    if (ui.frame_tip) {
        ImGui::SetNextWindowPos(place_of_tip(ui, *ui.frame_tip));
        draw_tip(ui, *ui.frame_tip);
    }
    const std::pair page{session.view().bench, session.has_exercise() ? &session.exercise() : nullptr};
    if (std::exchange(page_, page) != page)
        was_at_.reset();
    if (framed != last && !g.NavDisableHighlight && !(framed->window->RootWindow->Flags & ImGuiWindowFlags_Popup))
        was_at_ = ImRect(framed->low, framed->high).GetCenter();
    if (ImGui::IsKeyPressed(GLFW_KEY_TAB) && !g.IO.KeyAlt && !list_is_open())
        walk(ui, framed != last ? &*framed : nullptr, first_of_bench);
}

void KeyboardFrame::walk(const Ui& ui, const Placed* framed, std::size_t first_of_bench) {
    const ImGuiIO& io = ImGui::GetIO();
    const int count = static_cast<int>(ui.placed.size()), step = io.KeyShift ? -1 : 1;
    const auto control = [&](int k) -> const Placed& { return ui.placed[static_cast<std::size_t>(k)]; };
    const auto next = [&](int from, int by) {
        for (int tried = 0, k = from; tried < count; ++tried) {
            k = (k + by + count) % count;
            if (within_reach(ui, control(k)))
                return k;
        }
        return -1;
    };
    if (!framed && was_at_) {
        const auto away = [&](const Placed& one) {
            return within_reach(ui, one) ? ImLengthSqr(ImRect(one.low, one.high).GetCenter() - *was_at_) : FLT_MAX;
        };
        const auto nearest = std::ranges::min_element(ui.placed, {}, away);
        if (nearest != ui.placed.end() && within_reach(ui, *nearest))
            return put_frame(*nearest);
    }
    // From the framed control, or from before the bench's first.
    int at =
        framed ? static_cast<int>(framed - ui.placed.data()) : static_cast<int>(first_of_bench) - (step > 0 ? 1 : 0);
    at = next(at, step);
    if (io.KeyCtrl && framed && at >= 0) {
        for (int tried = 0; tried < count && control(at).window == framed->window; ++tried)
            at = next(at, step);
        for (int tried = 0; step < 0 && tried < count && control(next(at, -1)).window == control(at).window; ++tried)
            at = next(at, -1);
    }
    if (at >= 0)
        put_frame(control(at));
}

} // namespace holdtrue::app
