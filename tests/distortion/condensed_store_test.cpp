// Condensed parts on disk: the same bits, and nothing that was damaged or belongs to another part.
#include "distortion/condensed_part.h"
#include "sample_parts.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace fs = std::filesystem;

namespace {

struct Folder {
    fs::path path = fs::temp_directory_path() / ("holdtrue_store_" + std::to_string(::getpid()));
    ~Folder() { fs::remove_all(path); }
    fs::path only_file() const { return fs::directory_iterator(path)->path(); }
};

CondensedPart condensed(const part::Part& part, const fs::path& folder, std::size_t most = 12) {
    return CondensedPart(part, part::build_mesh(part), {}, {}, CondensedStore(folder, most));
}

} // namespace

TEST_CASE("a part read from the store is the part that was condensed, to the last bit") {
    const Folder folder;
    const part::Part part = tee(0.2, 0.1, 0.06, 0.005, 0.02, 2, 2);
    const CondensedPart plain = condensed(part, {}), first = condensed(part, folder.path),
                        second = condensed(part, folder.path);
    REQUIRE(std::distance(fs::directory_iterator(folder.path), fs::directory_iterator()) == 1);
    for (const CondensedPart* other : {&first, &second}) {
        CHECK(other->ok());
        CHECK(plain.flexibility() == other->flexibility());
        CHECK(plain.of_loads() == other->of_loads());
        CHECK(plain.of_strains() == other->of_strains());
    }
}

TEST_CASE("a damaged file is not believed, and is put right") {
    const Folder folder;
    const part::Part part = tee(0.2, 0.1, 0.06, 0.005, 0.02, 2, 2);
    const CondensedPart plain = condensed(part, folder.path);
    const fs::path file = folder.only_file();
    const auto size = fs::file_size(file);
    for (const int damage : {0, 1, 2}) {
        CAPTURE(damage);
        if (damage == 0)
            fs::resize_file(file, size / 2);
        else if (damage == 1)
            std::ofstream(file, std::ios::app) << "more";
        else {
            std::fstream change(file, std::ios::in | std::ios::out | std::ios::binary);
            change.seekp(static_cast<std::streamoff>(size / 3));
            change.put('!');
        }
        const CondensedPart again = condensed(part, folder.path);
        CHECK(again.flexibility() == plain.flexibility());
        CHECK(fs::file_size(file) == size);
    }
}

TEST_CASE("another part has another file, of many the oldest go") {
    const Folder folder;
    for (const double thickness : {0.003, 0.004, 0.005, 0.006})
        condensed(tee(0.2, 0.1, 0.06, thickness, 0.02, 2, 2), folder.path, 3);
    CHECK(std::distance(fs::directory_iterator(folder.path), fs::directory_iterator()) == 3);
}

TEST_CASE("a store that cannot be written is no reason to stop") {
    const part::Part part = tee(0.2, 0.1, 0.06, 0.005, 0.02, 2, 2);
    CHECK(condensed(part, "/proc/no/such/place").ok());
}
