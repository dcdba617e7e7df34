// A bundle: what goes between instructor and trainee as one file with checksums. Hand-outs (record/hand_out.h) and
// hand-ins (record/hand_in.h) are bundles: zip archives whose first file, manifest.json, says what the bundle is and
// the size and SHA-256 of every other file, and carries a SHA-256 of its own. The checksums tell damage on the way;
// they are no signature, and no mark is ever read from a bundle.
#pragma once

#include "record/archive.h"

#include <optional>

namespace holdtrue::record {

enum class BundleKind { hand_out, hand_in };

struct Bundle {
    BundleKind kind = BundleKind::hand_in;
    std::string exercise;       // name of the exercise
    std::string trainee;        // of a hand-in; may be empty
    std::optional<int> variant; // of a hand-in
    int hints = 0;              // of a hand-in: that counted when it was made
    std::string program;        // version that made it
    std::vector<PackedFile> files;
};

std::string bundle_bytes(const Bundle& bundle);
// Throw text::InputError with what does not hold; nothing is written before all of it does.
Bundle parse_bundle(std::string_view bytes, const std::string& file);
Bundle read_bundle(const std::filesystem::path& file);

// The content of one file; throws text::InputError when it is not there.
const std::string& content_of(const Bundle& bundle, std::string_view name, const std::string& file);

// Writes all files into a folder that is not there yet, or is empty: all of them or none. Throws text::InputError.
void write_files(const Bundle& bundle, const std::filesystem::path& folder);

// Throws text::InputError unless the name ends in ".handout.zip" or ".handin.zip", as the kind asks.
void check_bundle_name(const std::filesystem::path& file, BundleKind kind);
inline constexpr std::string_view hand_out_ending = ".handout.zip", hand_in_ending = ".handin.zip";

} // namespace holdtrue::record
