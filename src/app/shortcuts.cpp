#include "app/shortcuts.h"

#include "app/session/pass_choice.h"

#include <GLFW/glfw3.h>
#include <imgui_internal.h>

#include <algorithm>
#include <string_view>

namespace holdtrue::app {

namespace {

int key_named(std::string_view name) {
    struct Named {
        std::string_view name;
        int key;
    };
    constexpr Named keys[]{{"Home", GLFW_KEY_HOME},      {"End", GLFW_KEY_END},
                           {"Up", GLFW_KEY_UP},          {"Down", GLFW_KEY_DOWN},
                           {"Delete", GLFW_KEY_DELETE},  {"Enter", GLFW_KEY_ENTER},
                           {"F1", GLFW_KEY_F1},          {"Esc", GLFW_KEY_ESCAPE},
                           {"PageUp", GLFW_KEY_PAGE_UP}, {"PageDown", GLFW_KEY_PAGE_DOWN},
                           {"Left", GLFW_KEY_LEFT},      {"Right", GLFW_KEY_RIGHT}};
    for (const Named& named : keys)
        if (named.name == name)
            return named.key;
    return name.size() == 1 ? static_cast<int>(name[0]) : -1; // GLFW's own numbers of capitals, digits and marks
}

// The key of a chord whose other keys are held; -1: they are not.
int key_if_held(std::string_view keys) {
    const ImGuiIO& io = ImGui::GetIO();
    bool ctrl = false, shift = false, alt = false;
    for (;;) {
        const auto plus = keys.find('+');
        if (plus == std::string_view::npos || plus + 1 == keys.size())
            break;
        const std::string_view modifier = keys.substr(0, plus);
        ctrl = ctrl || modifier == "Ctrl";
        shift = shift || modifier == "Shift";
        alt = alt || modifier == "Alt";
        keys.remove_prefix(plus + 1);
    }
    const bool held = io.KeyCtrl == ctrl && io.KeyShift == shift && io.KeyAlt == alt;
    return held ? key_named(keys) : -1;
}

bool pressed(std::string_view keys) {
    const int key = key_if_held(keys);
    return key >= 0 && ImGui::IsKeyPressed(key);
}

// One gauge after the other, then none.
int next_gauge(const Session& session, int by) {
    const int count = static_cast<int>(session.part().gauges.size()) + 1;
    return (session.view().gauge + 1 + by + count) % count - 1;
}

// What is not predicted yet is told on the bench Weld before the weld starts.
Action weld_the_plan(const Session& session) {
    const bool told = !session.has_exercise() || session.predictions_left() == 0 || session.view().bench == Bench::weld;
    return told || session.why_not(act::StartWeld{}) ? Action(act::StartWeld{}) : act::ShowBench{Bench::weld};
}

} // namespace

// Tab, arrows, Space and Enter belong to the controls: they walk through them and press them.
std::vector<Shortcut> shortcuts(const Session& session) {
    const View& view = session.view();
    const auto at_time = [&](double time_s) {
        return view.bench == Bench::weld && session.marked() ? std::optional<Action>(act::SetTime{time_s})
                                                             : std::nullopt;
    };
    std::vector<Shortcut> list{
        {"F1", worded("show or hide this list"), act::Toggle{act::Switch::shortcuts}},
        {"Ctrl+O", worded("open an exercise or a plan"), {}},
        {"Ctrl+S", worded("save the plan"), act::Save{}},
        {"Ctrl+Shift+S", worded("save the plan under a name"), {}},
        {"Ctrl+Z", worded("undo"), act::Undo{}},
        {"Ctrl+Y", worded("redo"), act::Redo{}},
        {"Ctrl+Q", worded("quit"), act::Quit{}},
        {"1", worded("bench Brief"), act::ShowBench{Bench::brief}},
        {"2", worded("bench Setup"), act::ShowBench{Bench::setup}},
        {"3", worded("bench Order"), act::ShowBench{Bench::order}},
        {"4", worded("bench Weld"), act::ShowBench{Bench::weld}},
        {"5", worded("bench Inspect"), act::ShowBench{Bench::inspect}},
        {"6", worded("Lessons"), act::ShowBench{Bench::lessons}},
        {"7", worded("Record"), act::ShowBench{Bench::record}},
        {"8", worded("Check"), act::ShowBench{Bench::check}},
        {"9", worded("Class"), act::ShowRecordPage{RecordPage::school_class}},
        {"Ctrl+Enter", worded("weld the plan"), weld_the_plan(session)},
        {"Esc", worded("cancel the simulation, close a message"), act::CancelWeld{}},
        {"P", worded("play or pause the weld"), view.playing ? Action(act::Pause{}) : Action(act::Play{})},
        {".", worded("to the next move"), act::StepMove{1}},
        {",", worded("to the move before"), act::StepMove{-1}},
        {"Ctrl+.", worded("ten seconds on"), at_time(view.time_s + 10)},
        {"Ctrl+,", worded("ten seconds back"), at_time(view.time_s - 10)},
        {"Home", worded("to the start of the weld"), at_time(0)},
        {"End", worded("to the finished part"), at_time(session.marked() ? session.marked()->outcome->total_s : 0)},
        {"F", worded("fit the part into the view"), act::Fit{}},
        {"Alt+1", worded("look from the corner"), act::LookFrom{scene::StandardView::corner}},
        {"Alt+2", worded("look from the front"), act::LookFrom{scene::StandardView::front}},
        {"Alt+3", worded("look from the right"), act::LookFrom{scene::StandardView::right}},
        {"Alt+4", worded("look from the top"), act::LookFrom{scene::StandardView::top}},
        {"Alt+5", worded("look from below"), act::LookFrom{scene::StandardView::bottom}},
        {"Alt+6", worded("look from the back"), act::LookFrom{scene::StandardView::back}},
        {"Alt+7", worded("look from the left"), act::LookFrom{scene::StandardView::left}},
        {"I", worded("isotherms on or off"), act::Toggle{act::Switch::isotherms}},
        {"N", worded("numbers on or off"), act::Toggle{act::Switch::numbers}},
        {"D", worded("distorted shape on or off"), act::Toggle{act::Switch::deformed}},
    };
    if (session.has_exercise()) {
        // What changes the plan does so where it is seen, and what is chosen is seen.
        const bool ordering = view.bench == Bench::order;
        const bool seen = ordering || view.bench == Bench::weld || view.bench == Bench::inspect;
        const auto there = [](bool possible, Action action) {
            return possible ? std::optional<Action>(std::move(action)) : std::nullopt;
        };
        constexpr double drag_px = 40; // about 14 degrees
        constexpr double shift = 0.06; // of the view's height
        constexpr double nearer = 1.15;
        for (const auto& [keys, english, action] :
             {Shortcut{"Alt+Left", worded("turn the view to the left"), act::TurnView{-drag_px, 0}},
              {"Alt+Right", worded("turn the view to the right"), act::TurnView{drag_px, 0}},
              {"Alt+Up", worded("turn the view up"), act::TurnView{0, -drag_px}},
              {"Alt+Down", worded("turn the view down"), act::TurnView{0, drag_px}},
              {"Alt+Shift+Left", worded("shift the part to the left"), act::ShiftView{-shift, 0}},
              {"Alt+Shift+Right", worded("shift the part to the right"), act::ShiftView{shift, 0}},
              {"Alt+Shift+Up", worded("shift the part up"), act::ShiftView{0, shift}},
              {"Alt+Shift+Down", worded("shift the part down"), act::ShiftView{0, -shift}},
              {"Alt+PageUp", worded("come nearer, to the chosen pass"), act::ComeNearer{nearer}},
              {"Alt+PageDown", worded("go farther away"), act::ComeNearer{1 / nearer}}})
            list.push_back({keys, english, action});
        list.push_back({"G", worded("choose the next gauge"), act::ChooseGauge{next_gauge(session, 1)}});
        list.push_back({"Shift+G", worded("choose the gauge before"), act::ChooseGauge{next_gauge(session, -1)}});
        list.push_back({"H", worded("on Inspect, the heat at the chosen pass"),
                        there(view.bench == Bench::inspect && view.pass >= 0, act::ProbePass{view.pass})});
        list.push_back(
            {"PageDown", worded("choose the next pass"), there(seen, act::ChoosePass{next_pass(session, 1)})});
        list.push_back(
            {"PageUp", worded("choose the pass before"), there(seen, act::ChoosePass{next_pass(session, -1)})});
        list.push_back(
            {"W", worded("choose the next pass that can be welded now"), there(ordering, act::ChooseOpenPass{1})});
        list.push_back({"Shift+W", worded("choose the one before that can be welded now"),
                        there(ordering, act::ChooseOpenPass{-1})});
        list.push_back({"A", worded("add the chosen pass, or turn its direction round"),
                        there(ordering && view.pass >= 0, act::WeldNext{view.pass})});
        list.push_back({"Delete", worded("remove the chosen move"),
                        there(ordering && view.move >= 0, act::RemoveMove{view.move})});
        list.push_back({"Ctrl+Up", worded("move the chosen move up"),
                        there(ordering && view.move > 0, act::ShiftMove{view.move, view.move - 1})});
        list.push_back({"Ctrl+Down", worded("move the chosen move down"),
                        there(ordering && view.move >= 0, act::ShiftMove{view.move, view.move + 1})});
    }
    return list;
}

KeyRequests read_keys(const Session& session, bool on_number, Actions& out) {
    KeyRequests requests;
    const ImGuiIO& io = ImGui::GetIO();
    if (io.WantTextInput)
        return requests;                  // a field is being typed into
    if (session.view().shortcuts_shown) { // what lies behind the list is not worked through it
        if (pressed("F1") || pressed("Esc"))
            out.push_back(act::Toggle{act::Switch::shortcuts});
        return requests;
    }
    if (ImGui::GetTopMostPopupModal() && !pressed("Esc"))
        return requests; // nor is what lies behind a question
    for (const Shortcut& shortcut : shortcuts(session)) {
        const bool types_number = std::string_view("0123456789.,").find(shortcut.keys) != std::string_view::npos;
        if ((on_number && types_number) || !pressed(shortcut.keys))
            continue;
        if (shortcut.action)
            out.push_back(*shortcut.action);
        const std::string_view keys = shortcut.keys;
        requests.open = requests.open || keys == "Ctrl+O";
        requests.save_as = requests.save_as || keys == "Ctrl+Shift+S" ||
                           (keys == "Ctrl+S" && session.has_exercise() && session.plan().file.empty());
        if (keys == "Esc")
            out.push_back(act::DismissProblems{});
    }
    return requests;
}

void leave_keys_to_shortcuts(const Session& session) {
    ImGuiIO& io = ImGui::GetIO();
    const std::vector<Shortcut> list = shortcuts(session);
    for (const auto& [walks, key] : {std::pair{ImGuiKey_LeftArrow, GLFW_KEY_LEFT},
                                     {ImGuiKey_RightArrow, GLFW_KEY_RIGHT},
                                     {ImGuiKey_UpArrow, GLFW_KEY_UP},
                                     {ImGuiKey_DownArrow, GLFW_KEY_DOWN},
                                     {ImGuiKey_PageUp, GLFW_KEY_PAGE_UP},
                                     {ImGuiKey_PageDown, GLFW_KEY_PAGE_DOWN},
                                     {ImGuiKey_Home, GLFW_KEY_HOME},
                                     {ImGuiKey_End, GLFW_KEY_END}}) {
        const bool taken = !io.WantTextInput && std::ranges::any_of(list, [&, key = key](const Shortcut& shortcut) {
            return shortcut.action && key_if_held(shortcut.keys) == key;
        });
        io.KeyMap[walks] = taken ? -1 : key;
    }
}

} // namespace holdtrue::app
