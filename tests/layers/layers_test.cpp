// The folders of src/ stand in the order of the data's way. A file may include its own folder and those above it;
// ImGui, GLFW and OpenGL stay inside app/.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

const std::vector<std::string> order{"units",  "text",       "parallel",     "material", "part",  "arc",
                                     "heat",   "distortion", "weld",         "grading",  "order", "lesson",
                                     "record", "report",     "command_line", "app"};

struct Include {
    std::string file; // relative to src/
    std::string folder;
    std::string name; // as written
};

std::vector<Include> all_includes() {
    static const std::regex line_form(R"(^\s*#\s*include\s*["<]([^">]+)[">])");
    const fs::path src = fs::path(HOLDTRUE_SOURCE_DIR) / "src";
    std::vector<Include> includes;
    for (const auto& entry : fs::recursive_directory_iterator(src)) {
        if (entry.path().extension() != ".h" && entry.path().extension() != ".cpp")
            continue;
        const fs::path relative = fs::relative(entry.path(), src);
        const std::string folder = relative.has_parent_path() ? relative.begin()->string() : "";
        std::ifstream in(entry.path());
        std::string line;
        std::smatch match;
        while (std::getline(in, line))
            if (std::regex_search(line, match, line_form))
                includes.push_back({relative.string(), folder, match[1]});
    }
    return includes;
}

std::size_t rank(const std::string& folder) {
    return static_cast<std::size_t>(std::ranges::find(order, folder) - order.begin());
}

} // namespace

TEST_CASE("every folder of src has a place in the order") {
    for (const auto& entry : fs::directory_iterator(fs::path(HOLDTRUE_SOURCE_DIR) / "src"))
        if (entry.is_directory())
            CHECK_MESSAGE(rank(entry.path().filename().string()) < order.size(), entry.path().string());
}

TEST_CASE("a folder includes only itself and folders above it") {
    const std::vector<Include> includes = all_includes();
    REQUIRE(includes.size() > 50);
    for (const Include& include : includes) {
        const std::string target = include.name.substr(0, include.name.find('/'));
        if (include.folder.empty() || rank(target) == order.size())
            continue; // main.cpp, or a library's header
        CHECK_MESSAGE(rank(target) <= rank(include.folder), include.file << " includes " << include.name);
    }
}

TEST_CASE("ImGui, GLFW and OpenGL are included in app only") {
    static const std::regex window_library(R"(^(imgui|GLFW/|glad/|GL/|stb_))");
    for (const Include& include : all_includes())
        if (include.folder != "app")
            CHECK_MESSAGE(!std::regex_search(include.name, window_library),
                          include.file << " includes " << include.name);
}

TEST_CASE("MPI is included in parallel only") {
    for (const Include& include : all_includes())
        if (include.folder != "parallel")
            CHECK_MESSAGE(include.name != "mpi.h", include.file);
}

TEST_CASE("app/session knows no ImGui and app/scene no GL") {
    static const std::regex window_library(R"(^(imgui|GLFW/|glad/|GL/))");
    for (const Include& include : all_includes())
        if (include.file.starts_with("app/session/") || include.file.starts_with("app/scene/"))
            CHECK_MESSAGE(!std::regex_search(include.name, window_library),
                          include.file << " includes " << include.name);
}

// CTest takes what follows a semicolon for another test and asks the program for two that it does not have, and both
// pass.
TEST_CASE("the top level holds what it should, hidden files and build folders besides") {
    const std::vector<std::string> expected{"CMakeLists.txt", "README.md", "DEVELOPERS.md", "src",
                                            "assets",         "lessons",   "tests",         "third_party"};
    for (const auto& entry : fs::directory_iterator(HOLDTRUE_SOURCE_DIR)) {
        const std::string name = entry.path().filename().string();
        if (!name.starts_with('.') && !fs::exists(entry.path() / "CMakeCache.txt"))
            CHECK_MESSAGE(std::ranges::count(expected, name) == 1, name);
    }
}

TEST_CASE("no test's name holds a semicolon") {
    static const std::regex name_form(R"re(TEST_CASE\(\s*"([^"]*)")re");
    int names = 0;
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(HOLDTRUE_SOURCE_DIR) / "tests")) {
        if (entry.path().extension() != ".cpp")
            continue;
        std::ifstream in(entry.path());
        const std::string text{std::istreambuf_iterator<char>(in), {}};
        for (std::sregex_iterator at(text.begin(), text.end(), name_form), end; at != end; ++at, ++names)
            CHECK_MESSAGE((*at)[1].str().find(';') == std::string::npos, (*at)[1].str());
    }
    CHECK(names > 300);
}
