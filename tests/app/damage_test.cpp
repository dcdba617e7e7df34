#include "app/ui/damage.h"
#include "screen.h"

#include <doctest/doctest.h>

#include <functional>

using namespace holdtrue::app;

namespace {

// A window without a display, into whose draw list a test draws by hand, one frame at a time.
class Drawing {
public:
    Drawing() {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.DisplaySize = {640, 480};
        io.DeltaTime = 1.0f / 60;
        unsigned char* pixels = nullptr;
        int width = 0, height = 0;
        io.Fonts->GetTexDataAsRGBA32(&pixels, &width, &height);
    }
    ~Drawing() { ImGui::DestroyContext(); }
    Drawing(const Drawing&) = delete;
    Drawing& operator=(const Drawing&) = delete;

    using Draw = std::function<void(ImDrawList&)>;
    ImDrawData& frame(const Draw& draw) {
        ImGui::NewFrame();
        draw(*ImGui::GetBackgroundDrawList());
        ImGui::Render();
        return *ImGui::GetDrawData();
    }
    std::vector<PixelBox> damage_of(const Draw& draw, const Repainted& repainted = {}) {
        return damage.since_last(frame(draw), repainted);
    }
    // What the second of two pictures damages, when the first has stood for two frames.
    std::vector<PixelBox> damage_between(const Draw& first, const Draw& second) {
        damage_of(first);
        REQUIRE(damage_of(first).empty());
        return damage_of(second);
    }

    Damage damage;
};

bool covered(const std::vector<PixelBox>& boxes, int x, int y) {
    return std::ranges::any_of(
        boxes, [&](const PixelBox& box) { return x >= box.left && x < box.right && y >= box.top && y < box.bottom; });
}

bool disjoint(const std::vector<PixelBox>& boxes) {
    for (std::size_t a = 0; a < boxes.size(); ++a)
        for (std::size_t b = a + 1; b < boxes.size(); ++b)
            if (!common(boxes[a], boxes[b]).empty())
                return false;
    return true;
}

constexpr ImU32 red = IM_COL32(255, 0, 0, 255), blue = IM_COL32(0, 0, 255, 255);

void square(ImDrawList& list, float x, float y, ImU32 colour = red) {
    list.AddRectFilled({x, y}, {x + 40, y + 40}, colour);
}

void paint_something(const ImDrawList*, const ImDrawCmd*) {}

} // namespace

TEST_CASE("the first frame is damaged as a whole, and one that is drawn alike nowhere") {
    Drawing window;
    const auto draw = [](ImDrawList& list) { square(list, 100, 100); };
    CHECK(window.damage_of(draw) == std::vector<PixelBox>{{0, 0, 640, 480}});
    CHECK(window.damage_of(draw).empty());
    window.damage.forget();
    CHECK(window.damage_of(draw) == std::vector<PixelBox>{{0, 0, 640, 480}});
    ImGui::GetIO().DisplaySize = {480, 640}; // as many tiles
    CHECK(window.damage_of(draw) == std::vector<PixelBox>{{0, 0, 480, 640}});
}

TEST_CASE("what moves damages where it was and where it is, and leaves the rest") {
    Drawing window;
    const auto boxes = window.damage_between([](ImDrawList& list) { square(list, 20, 20); },
                                             [](ImDrawList& list) { square(list, 560, 400); });
    for (const auto& [x, y] : {std::pair{20, 20}, {59, 59}, {560, 400}, {599, 439}})
        CHECK(covered(boxes, x, y));
    CHECK(!covered(boxes, 320, 240));
    CHECK(disjoint(boxes));
}

TEST_CASE("colour, order, clipping, texture and the way of mixing all count") {
    Drawing window;
    const auto at_square = [&](const Drawing::Draw& first, const Drawing::Draw& second) {
        const auto boxes = window.damage_between(first, second);
        return covered(boxes, 120, 120) && !covered(boxes, 400, 300);
    };
    const auto plain = [](ImDrawList& list) { square(list, 100, 100); };
    CHECK(at_square(plain, [](ImDrawList& list) { square(list, 100, 100, blue); }));
    CHECK(at_square(plain, [](ImDrawList& list) { square(list, 100.25f, 100); }));
    CHECK(at_square(plain, [](ImDrawList&) {}));
    CHECK(at_square(
        [](ImDrawList& list) {
            square(list, 100, 100, red);
            square(list, 110, 110, blue);
        },
        [](ImDrawList& list) {
            square(list, 110, 110, blue);
            square(list, 100, 100, red);
        }));
    const auto clipped = [](float right) {
        return [right](ImDrawList& list) {
            list.PushClipRect({100, 100}, {right, 140});
            square(list, 100, 100);
            list.PopClipRect();
        };
    };
    CHECK(at_square(clipped(110), clipped(130)));
    const auto pictured = [](std::intptr_t texture) {
        return [texture](ImDrawList& list) {
            list.AddImage(reinterpret_cast<ImTextureID>(texture), {100, 100}, {140, 140});
        };
    };
    CHECK(at_square(pictured(7), pictured(8)));
    CHECK(at_square(pictured(7), [&](ImDrawList& list) {
        list.AddCallback(paint_something, nullptr);
        pictured(7)(list);
        list.AddCallback(ImDrawCallback_ResetRenderState, nullptr);
    }));
}

TEST_CASE("a texture that was painted again damages what shows it, in that frame alone") {
    Drawing window;
    const auto texture = reinterpret_cast<ImTextureID>(std::intptr_t{7});
    const auto draw = [&](ImDrawList& list) {
        square(list, 20, 20);
        list.AddImage(texture, {400, 300}, {500, 400});
    };
    window.damage_of(draw);
    const auto boxes = window.damage_of(draw, {{texture}, {}});
    CHECK(covered(boxes, 400, 300));
    CHECK(covered(boxes, 499, 399));
    CHECK(!covered(boxes, 30, 30));
    CHECK(window.damage_of(draw).empty());
}

TEST_CASE("what a draw list calls to paint is damaged where it comes, where it goes and where its painter says") {
    Drawing window;
    int data = 0;
    const auto draw = [&](ImDrawList& list) {
        list.PushClipRect({200, 100}, {500, 380});
        list.AddCallback(paint_something, &data);
        list.AddCallback(ImDrawCallback_ResetRenderState, nullptr);
        list.PopClipRect();
    };
    const std::vector<std::pair<int, int>> corners{{200, 100}, {499, 100}, {200, 379}, {499, 379}};
    window.damage_of([](ImDrawList&) {});
    const auto come = window.damage_of(draw);
    REQUIRE(come.size() == 1);
    for (const auto& [x, y] : corners)
        CHECK(covered(come, x, y));
    CHECK(!covered(come, 100, 50));
    CHECK(window.damage_of(draw).empty());
    CHECK(window.damage_of(draw, {{}, {{330, 200, 340, 210}}}) == std::vector<PixelBox>{{320, 192, 352, 224}});
    CHECK(window.damage_of(draw).empty());
    const auto gone = window.damage_of([](ImDrawList&) {});
    for (const auto& [x, y] : corners)
        CHECK(covered(gone, x, y));
    CHECK(window.damage_of([](ImDrawList&) {}).empty());
}

TEST_CASE("restricted draw lists keep what reaches into a box, clipped to it, and how it is to be painted") {
    Drawing window;
    int data = 0;
    ImDrawData& drawn = window.frame([&](ImDrawList& list) {
        list.PushClipRect({0, 0}, {300, 480});
        square(list, 20, 20);
        list.PopClipRect();
        list.PushClipRect({300, 0}, {640, 480});
        list.AddCallback(paint_something, &data);
        list.AddCallback(ImDrawCallback_ResetRenderState, nullptr);
        list.PopClipRect();
    });
    restrict_to(std::array{PixelBox{32, 32, 64, 64}, PixelBox{128, 0, 160, 96}}, drawn);
    std::vector<const ImDrawCmd*> painting;
    int resets = 0;
    for (int l = 0; l < drawn.CmdListsCount; ++l)
        for (const ImDrawCmd& command : drawn.CmdLists[l]->CmdBuffer)
            if (command.UserCallback == ImDrawCallback_ResetRenderState)
                ++resets;
            else if (command.UserCallback || command.ElemCount > 0)
                painting.push_back(&command);
    CHECK(resets == 1);
    REQUIRE(painting.size() == 2); // the square for each box; what is called to paint lies in neither
    CHECK(painting[0]->ClipRect.x == 32);
    CHECK(painting[0]->ClipRect.w == 64);
    CHECK(painting[1]->ClipRect.x == 128);
    CHECK(painting[1]->ClipRect.w == 96);
}

TEST_CASE("a window at rest damages nothing, and a control under the mouse only its own place") {
    using namespace holdtrue::app::test;
    const Desk desk("damage");
    Screen screen(desk.places);
    Damage damage;
    damage.since_last(*ImGui::GetDrawData(), {});
    screen.frame();
    CHECK(damage.since_last(*ImGui::GetDrawData(), {}).empty());
    const auto menu = screen.find("Menu");
    REQUIRE(menu != screen.placed.end());
    const ImVec2 middle{(menu->low.x + menu->high.x) / 2, (menu->low.y + menu->high.y) / 2};
    ImGui::GetIO().MousePos = middle;
    screen.frames(2);
    const auto boxes = damage.since_last(*ImGui::GetDrawData(), {});
    CHECK(covered(boxes, static_cast<int>(middle.x), static_cast<int>(middle.y)));
    CHECK(!covered(boxes, 640, 400));
}
