#pragma once
/// How often a random case is tried: the sanitizers, many times slower, look at the code and not at
/// the numbers, so a fifth is enough for them.

namespace loadline::test {

#if defined(LOADLINE_SANITIZED)  // by the build, whatever the compiler
inline constexpr int slower = 5;
#else
inline constexpr int slower = 1;
#endif

constexpr int often(int times) {
    return (times + slower - 1) / slower;
}

}  // namespace loadline::test

using loadline::test::often;
