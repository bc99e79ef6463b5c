// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <string_view>
#include <utility>

#include "io/column_map.hpp"

namespace bw::io {

/// The words that a column map may hold, each with what it means.
template <class T, std::size_t N>
using MapWords = std::array<std::pair<std::string_view, T>, N>;

inline constexpr MapWords<TableLayout, 2> kLayoutWords{
    {{"wide", TableLayout::Wide}, {"long", TableLayout::Long}}};
inline constexpr MapWords<ColumnRole, 15> kRoleWords{{{"sample", ColumnRole::Sample},
                                                      {"analyte", ColumnRole::Analyte},
                                                      {"analyte-name", ColumnRole::AnalyteName},
                                                      {"value", ColumnRole::Value},
                                                      {"unit", ColumnRole::Unit},
                                                      {"wavelength", ColumnRole::Wavelength},
                                                      {"dilution", ColumnRole::Dilution},
                                                      {"sample-mass", ColumnRole::SampleMass},
                                                      {"final-mass", ColumnRole::FinalMass},
                                                      {"final-volume", ColumnRole::FinalVolume},
                                                      {"blank-flag", ColumnRole::BlankFlag},
                                                      {"date", ColumnRole::Date},
                                                      {"time", ColumnRole::Time},
                                                      {"operator", ColumnRole::Operator},
                                                      {"ignored", ColumnRole::Ignored}}};
inline constexpr MapWords<LinePolicy, 3> kLineWords{
    {{"both", LinePolicy::Both}, {"first", LinePolicy::First}, {"mean", LinePolicy::Mean}}};
inline constexpr MapWords<BlankPolicy, 3> kBlankWords{
    {{"keep", BlankPolicy::Keep},
     {"already subtracted", BlankPolicy::AlreadySubtracted},
     {"subtract mean", BlankPolicy::SubtractMean}}};
inline constexpr MapWords<DecimalSign, 2> kDecimalWords{
    {{"point", DecimalSign::Point}, {"comma", DecimalSign::Comma}}};
inline constexpr MapWords<GroupMark, 5> kGroupWords{{{"none", GroupMark::None},
                                                     {"space", GroupMark::Space},
                                                     {"comma", GroupMark::Comma},
                                                     {"point", GroupMark::Point},
                                                     {"apostrophe", GroupMark::Apostrophe}}};
inline constexpr MapWords<PpmMeaning, 2> kPpmWords{
    {{"by mass", PpmMeaning::ByMass}, {"by volume", PpmMeaning::ByVolume}}};
inline constexpr MapWords<Separator, 3> kSeparatorWords{
    {{"comma", Separator::Comma}, {"semicolon", Separator::Semicolon}, {"tab", Separator::Tab}}};
/// A byte order mark tells which UTF-16 and which UTF-8 it is.
inline constexpr MapWords<Encoding, 3> kEncodingWords{{{"utf-8", Encoding::Utf8},
                                                       {"utf-16", Encoding::Utf16LittleEndian},
                                                       {"windows-1252", Encoding::Windows1252}}};
inline constexpr MapWords<bool, 2> kExponentWords{{{"refuse", false}, {"read", true}}};
inline constexpr MapWords<bool, 2> kOtherColumnWords{{{"refuse", false}, {"ignore", true}}};
inline constexpr MapWords<bool, 2> kRepeatedHeadWords{{{"refuse", false}, {"skip", true}}};
inline constexpr MapWords<bool, 2> kRepeatWords{{{"refuse", false}, {"keep", true}}};
inline constexpr MapWords<bool, 2> kShortRowWords{{{"refuse", false}, {"not tested", true}}};

/// The word for a value; empty when there is none.
template <class T, std::size_t N>
constexpr std::string_view word_for(const MapWords<T, N>& words, T value) {
    for (const auto& [word, meaning] : words) {
        if (meaning == value) {
            return word;
        }
    }
    return {};
}

}  // namespace bw::io
