#pragma once
/// What a command writes with --json.

#include "program.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace loadline::test {

using Json = nlohmann::json;

/// The document of a command that succeeds without a word on the error stream.
inline Json json_of(std::vector<std::string> args) {
    args.emplace_back("--json");
    const Ran ran = run(args);
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    REQUIRE(ran.err.empty());
    return Json::parse(ran.out);
}

}  // namespace loadline::test
