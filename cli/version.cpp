#include "cli/version.hpp"

#include "version.inc"

#include <fmt/format.h>

namespace loadline::cli {

std::string version_text() {
    return fmt::format("loadline {}\n{}\ncompiled by {}", build_version, build_commit,
                       build_compiler);
}

}  // namespace loadline::cli
