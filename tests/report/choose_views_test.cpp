#include "part/mesh.h"
#include "part/read_part.h"
#include "report/choose_views.h"
#include "report/pass_track.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>

using namespace holdtrue;

TEST_CASE("the views of a shipped part show every pass, and each shows some that those before hide") {
    const report::Box box{0, 0, 480, 200};
    for (const auto& file :
         std::filesystem::directory_iterator(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/parts")) {
        CAPTURE(file.path().filename().string());
        const auto read = part::read_part(file.path());
        const part::Part& part = *read;
        const part::Mesh mesh = part::build_mesh(part);
        std::vector<char> seen(part.passes.size(), 0);
        for (const report::View& view : report::choose_views(part, mesh)) {
            const report::Projection projection(view, mesh.position_m, box);
            report::DepthImage image(box, 1.5);
            image.draw(mesh, mesh.position_m, projection, {}, [](double) { return report::Colour{}; });
            const auto before = std::ranges::count(seen, 1);
            for (std::size_t pass = 0; pass < seen.size(); ++pass)
                seen[pass] =
                    seen[pass] || report::track_of(part, static_cast<int>(pass), false, projection, image).seen;
            CHECK(std::ranges::count(seen, 1) > before);
        }
        for (std::size_t pass = 0; pass < seen.size(); ++pass) {
            CAPTURE(part.passes[pass].name);
            CHECK(seen[pass]);
        }
    }
}
