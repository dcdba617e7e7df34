// The real program on a virtual screen with software OpenGL.
#pragma once

#include <doctest/doctest.h>
#include <stb_image.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace holdtrue::test {

struct Ran {
    int exit_code = -1;
    std::string output; // standard output and standard error
};

inline Ran run(const std::string& command) {
    Ran ran;
    std::FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
    REQUIRE(pipe);
    std::array<char, 4096> buffer;
    for (std::size_t got; (got = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;)
        ran.output.append(buffer.data(), got);
    const int status = ::pclose(pipe);
    ran.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return ran;
}

// A folder for one test: the user's configuration and data, scripts and pictures.
class Room {
public:
    explicit Room(const std::string& name)
        : folder(std::filesystem::temp_directory_path() / ("holdtrue_gui_" + name + "_" + std::to_string(::getpid()))) {
        std::filesystem::remove_all(folder);
        std::filesystem::create_directories(folder);
    }
    ~Room() {
        std::error_code ignored;
        std::filesystem::remove_all(folder, ignored);
    }
    std::string path(const std::string& name) const { return (folder / name).string(); }
    void write(const std::string& name, const std::string& text) const { std::ofstream(folder / name) << text; }
    std::string read(const std::string& name) const {
        std::ifstream in(folder / name, std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    std::string environment() const {
        return "LIBGL_ALWAYS_SOFTWARE=1 XDG_CONFIG_HOME='" + path("config") + "' XDG_DATA_HOME='" + path("data") + "' ";
    }
    // Runs a command on a screen of its own. The server itself picks a number that no other has.
    Ran on_a_screen(const std::string& command) const {
        write("on_a_screen.sh", R"sh(
Xvfb -displayfd 3 -screen 0 1280x800x24 -nolisten tcp 3>"$ROOM/display" 2>"$ROOM/server.log" & server=$!
trap 'kill $server; wait $server' EXIT
for try in $(seq 300); do
    [ -s "$ROOM/display" ] && break
    sleep 0.1
done
export DISPLAY=":$(cat "$ROOM/display")"
)sh" + command + "\n");
        return run(environment() + "ROOM='" + folder.string() + "' PROGRAM='" + HOLDTRUE_PROGRAM +
                   "' timeout 280 sh '" + path("on_a_screen.sh") + "'");
    }
    // Runs the program to its end.
    Ran window(const std::string& arguments) const { return on_a_screen("\"$PROGRAM\" " + arguments); }

    std::filesystem::path folder;
};

struct Image {
    int width = 0, height = 0;
    std::vector<unsigned char> rgb;
    const unsigned char* at(int x, int y) const {
        return &rgb[3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x))];
    }
    std::size_t colours() const {
        std::set<int> seen;
        for (std::size_t k = 0; k + 2 < rgb.size(); k += 3)
            seen.insert(rgb[k] << 16 | rgb[k + 1] << 8 | rgb[k + 2]);
        return seen.size();
    }
};

inline Image read_image(const std::string& file) {
    Image image;
    int channels = 0;
    unsigned char* pixels = stbi_load(file.c_str(), &image.width, &image.height, &channels, 3);
    REQUIRE_MESSAGE(pixels, file);
    image.rgb.assign(pixels, pixels + 3 * image.width * image.height);
    stbi_image_free(pixels);
    return image;
}

inline std::string shipped(const std::string& name) {
    return std::string(HOLDTRUE_SOURCE_DIR) + "/lessons/exercises/" + name;
}

} // namespace holdtrue::test
