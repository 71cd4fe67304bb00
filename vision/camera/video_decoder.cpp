#include "vision/camera/video_decoder.h"

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/display.h>
#include <libavutil/mem.h>
#include <libswscale/swscale.h>
}

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <string>
#include <string_view>
#include <thread>
#include <utility>

#include "vision/camera/picture_turn.h"

namespace nearpoint {
namespace {

// Neither playlists, which open other files, nor texts and lists of pictures.
constexpr const char* kContainers = "mov,matroska,webm,avi,mpegts,mpeg,asf,flv,ogg";
constexpr std::int64_t kMostPixels = 64'000'000;
constexpr double kLongestDamage = 2;  // seconds until a stream without key frames has healed
constexpr int kMostErrorsInVain = 1000;

struct CloseInput {
  void operator()(AVFormatContext* input) const { avformat_close_input(&input); }
};
struct FreeCodec {
  void operator()(AVCodecContext* codec) const { avcodec_free_context(&codec); }
};
struct FreePacket {
  void operator()(AVPacket* packet) const { av_packet_free(&packet); }
};
struct FreeFrame {
  void operator()(AVFrame* frame) const { av_frame_free(&frame); }
};
struct FreeScaler {
  void operator()(SwsContext* scaler) const { sws_freeContext(scaler); }
};

double Seconds(std::int64_t stamp, AVRational base) {
  return static_cast<double>(stamp) * av_q2d(base);
}

std::optional<PictureTurn> TurnIn(const std::uint8_t* data, std::size_t size) {
  std::array<std::int32_t, 9> matrix{};
  if (data == nullptr || size < sizeof(matrix)) return std::nullopt;
  std::memcpy(matrix.data(), data, sizeof(matrix));
  return TurnOf(matrix);
}

int ColourMatrix(AVColorSpace space) {
  switch (space) {
    case AVCOL_SPC_BT709:
      return SWS_CS_ITU709;
    case AVCOL_SPC_SMPTE240M:
      return SWS_CS_SMPTE240M;
    case AVCOL_SPC_FCC:
      return SWS_CS_FCC;
    case AVCOL_SPC_BT2020_NCL:
    case AVCOL_SPC_BT2020_CL:
      return SWS_CS_BT2020;
    default:
      return SWS_CS_DEFAULT;
  }
}

Result<void> NoVideo(const std::filesystem::path& file) {
  return Fail(ErrorCode::kUnreadable,
              file.string() +
                  ": this is not a video that can be opened, or it was cut off before its "
                  "description was written.");
}

}  // namespace

struct VideoDecoder::Impl {
  std::unique_ptr<AVFormatContext, CloseInput> input;
  std::unique_ptr<AVCodecContext, FreeCodec> codec;
  std::unique_ptr<AVPacket, FreePacket> packet{av_packet_alloc()};
  std::unique_ptr<AVFrame, FreeFrame> frame{av_frame_alloc()};
  std::unique_ptr<SwsContext, FreeScaler> scaler;
  AVStream* stream = nullptr;
  std::optional<PictureTurn> turn;  // of the whole stream
  cv::Mat wide;                     // room for what the scaler writes beyond the end of a line

  std::int64_t packets = 0;   // of the stream
  std::int64_t cut_away = 0;  // packets that an edit hides: decoded for those that follow
  std::int64_t given = 0, damaged = 0;
  std::optional<double> damaged_since;  // time; until the next picture that stands by itself
  double last_time = 0;
  double last_end = 0;  // of all that was read, of any track
  int errors_in_vain = 0;
  bool at_end = false, broken = false;

  Result<void> Open(const std::filesystem::path& file) {
    AVFormatContext* opened = avformat_alloc_context();
    if (opened == nullptr) return NoVideo(file);
    opened->flags |= AVFMT_FLAG_DISCARD_CORRUPT;
    opened->protocol_whitelist = av_strdup("file");
    opened->format_whitelist = av_strdup(kContainers);
    const std::string name = "file:" + file.string();
    if (avformat_open_input(&opened, name.c_str(), nullptr, nullptr) < 0) return NoVideo(file);
    input.reset(opened);
    if (avformat_find_stream_info(input.get(), nullptr) < 0) return NoVideo(file);
    const AVCodec* decoder = nullptr;
    const int index =
        av_find_best_stream(input.get(), AVMEDIA_TYPE_VIDEO, -1, -1, &decoder, /*flags=*/0);
    if (index < 0 || decoder == nullptr) return NoVideo(file);
    stream = input->streams[index];
    if ((stream->disposition & AV_DISPOSITION_ATTACHED_PIC) != 0) return NoVideo(file);
    codec.reset(avcodec_alloc_context3(decoder));
    if (!codec || avcodec_parameters_to_context(codec.get(), stream->codecpar) < 0)
      return NoVideo(file);
    codec->pkt_timebase = stream->time_base;
    codec->max_pixels = kMostPixels;
    codec->thread_count = static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1U, 4U));
    if (avcodec_open2(codec.get(), decoder, nullptr) < 0) return NoVideo(file);
    std::size_t size = 0;
    const std::uint8_t* matrix = av_stream_get_side_data(stream, AV_PKT_DATA_DISPLAYMATRIX, &size);
    turn = TurnIn(matrix, size);
    return {};
  }

  // Reads on to the next packet of the stream, or to the end.
  void Feed() {
    for (;;) {
      av_packet_unref(packet.get());
      const int read = av_read_frame(input.get(), packet.get());
      if (read < 0) {
        broken = read != AVERROR_EOF || (input->pb != nullptr && input->pb->error < 0);
        at_end = true;
        (void)avcodec_send_packet(codec.get(), nullptr);
        return;
      }
      const AVStream* of = input->streams[packet->stream_index];
      const std::int64_t stamp = packet->pts != AV_NOPTS_VALUE ? packet->pts : packet->dts;
      if (stamp != AV_NOPTS_VALUE)
        last_end = std::max(last_end, Seconds(stamp + packet->duration, of->time_base));
      if (packet->stream_index != stream->index) continue;
      ++packets;
      if ((packet->flags & AV_PKT_FLAG_DISCARD) != 0) ++cut_away;
      if (const int sent = avcodec_send_packet(codec.get(), packet.get());
          sent < 0 && sent != AVERROR(EAGAIN)) {
        Damage();
      }
      return;
    }
  }

  // Whether no picture is coded as a change to another.
  [[nodiscard]] bool EachAlone() const {
    const AVCodecDescriptor* coding = avcodec_descriptor_get(codec->codec_id);
    return coding != nullptr && (coding->props & AV_CODEC_PROP_INTRA_ONLY) != 0;
  }

  void Damage() {
    ++damaged;
    if (!EachAlone() && !damaged_since) damaged_since = last_time;
  }

  // Whether the frame can be given; counts it where not.
  bool Sound() {
    if (frame->decode_error_flags != 0 || (frame->flags & AV_FRAME_FLAG_CORRUPT) != 0) {
      Damage();
      return false;
    }
    if (frame->best_effort_timestamp != AV_NOPTS_VALUE) {
      last_time = Seconds(frame->best_effort_timestamp, stream->time_base);
    } else if (given > 0 && stream->avg_frame_rate.num > 0 && !(at_end && cut_off())) {
      // AVI names no times: it counts pictures of one rate. Where the file breaks off, a picture
      // that was to be stored later may be missing among the last ones.
      last_time += 1 / av_q2d(stream->avg_frame_rate);
    } else {
      ++damaged;
      return false;
    }
    if (damaged_since && frame->key_frame == 0 && last_time - *damaged_since < kLongestDamage) {
      ++damaged;
      return false;
    }
    damaged_since.reset();
    return true;
  }

  std::optional<VideoPicture> Next() {
    for (;;) {
      const int received = avcodec_receive_frame(codec.get(), frame.get());
      if (received == AVERROR_EOF) return std::nullopt;
      if (received == AVERROR(EAGAIN)) {
        if (at_end) return std::nullopt;
        Feed();
        continue;
      }
      if (received < 0) {
        if (++errors_in_vain > kMostErrorsInVain) {
          broken = true;
          return std::nullopt;
        }
        Damage();
        continue;
      }
      errors_in_vain = 0;
      if (!Sound()) continue;
      VideoPicture picture;
      picture.bgr = Picture();
      if (picture.bgr.empty()) {
        ++damaged;
        continue;
      }
      ++given;
      picture.time_s = last_time;
      picture.lost = damaged;
      return picture;
    }
  }

  cv::Mat Picture() {
    const int width = frame->width;
    const int height = frame->height;
    const auto format = static_cast<AVPixelFormat>(frame->format);
    // The flags that OpenCV's own reader uses: the same pictures to the last bit of what both read.
    scaler.reset(sws_getCachedContext(scaler.release(), width, height, format, width, height,
                                      AV_PIX_FMT_BGR24, SWS_BICUBIC, nullptr, nullptr, nullptr));
    if (!scaler) return {};
    SetColours();
    wide.create(height + 1, (width + 127) / 64 * 64, CV_8UC3);
    std::array<std::uint8_t*, 4> to{wide.data, nullptr, nullptr, nullptr};
    const std::array<int, 4> steps{static_cast<int>(wide.step[0]), 0, 0, 0};
    if (sws_scale(scaler.get(), frame->data, frame->linesize, 0, height, to.data(), steps.data()) <=
        0) {
      return {};
    }
    const cv::Mat stored = wide(cv::Rect(0, 0, width, height));
    std::optional<PictureTurn> upright = turn;
    if (!upright) {
      if (const AVFrameSideData* own =
              av_frame_get_side_data(frame.get(), AV_FRAME_DATA_DISPLAYMATRIX)) {
        upright = TurnIn(own->data, own->size);
      }
    }
    return !upright || *upright == PictureTurn{} ? stored.clone() : Turned(stored, *upright);
  }

  // Only what the stream names otherwise than the scaler assumes.
  void SetColours() {
    int* from = nullptr;
    int* to = nullptr;
    int full_from = 0, full_to = 0, brightness = 0, contrast = 0, saturation = 0;
    if (sws_getColorspaceDetails(scaler.get(), &from, &full_from, &to, &full_to, &brightness,
                                 &contrast, &saturation) < 0) {
      return;
    }
    const int* wanted = sws_getCoefficients(ColourMatrix(frame->colorspace));
    const int full = full_from != 0 || frame->color_range == AVCOL_RANGE_JPEG ? 1 : 0;
    if (std::equal(wanted, wanted + 4, from) && full == full_from) return;
    (void)sws_setColorspaceDetails(scaler.get(), wanted, full, to, full_to, brightness, contrast,
                                   saturation);
  }

  // What the container promises; an edited MP4 shows less than it holds.
  [[nodiscard]] std::int64_t Promised() const {
    const std::int64_t stated = stream->nb_frames;
    if (std::string_view(input->iformat->name).find("mp4") == std::string_view::npos) return stated;
    const int indexed = avformat_index_get_entries_count(stream);
    return indexed > 0 ? std::min<std::int64_t>(stated, indexed) : stated;
  }

  // Some containers state an estimated count, so a small difference is no sign of damage.
  [[nodiscard]] std::int64_t MissingAtTheEnd() const {
    const std::int64_t missing = Promised() - packets;
    return missing > 2 + Promised() / 100 ? missing : 0;
  }

  [[nodiscard]] std::int64_t Lost() const {
    // Some decoders pass over a damaged picture without a word.
    const std::int64_t unseen = EachAlone() ? packets - cut_away - given : 0;
    return std::max(damaged, unseen) + MissingAtTheEnd();
  }

  [[nodiscard]] bool cut_off() const {
    return broken || MissingAtTheEnd() > 0 || EndsBeforeItsTime();
  }

  [[nodiscard]] bool EndsBeforeItsTime() const {
    if (Promised() > 0 || input->duration <= 0 ||
        input->duration_estimation_method == AVFMT_DURATION_FROM_BITRATE) {
      return false;
    }
    const double length = Seconds(input->duration, AV_TIME_BASE_Q);
    const double start =
        input->start_time == AV_NOPTS_VALUE ? 0 : Seconds(input->start_time, AV_TIME_BASE_Q);
    return start + length - last_end > 0.2 + 0.01 * length;
  }
};

VideoDecoder::VideoDecoder(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
VideoDecoder::VideoDecoder(VideoDecoder&&) noexcept = default;
VideoDecoder& VideoDecoder::operator=(VideoDecoder&&) noexcept = default;
VideoDecoder::~VideoDecoder() = default;

Result<VideoDecoder> VideoDecoder::Open(const std::filesystem::path& file) {
  auto impl = std::make_unique<Impl>();
  if (!impl->packet || !impl->frame) return tl::unexpected(NoVideo(file).error());
  if (auto opened = impl->Open(file); !opened) return tl::unexpected(opened.error());
  return VideoDecoder(std::move(impl));
}

std::optional<VideoPicture> VideoDecoder::Next() { return impl_->Next(); }

std::optional<std::int64_t> VideoDecoder::stated_count() const {
  const std::int64_t promised = impl_->Promised();
  return promised > 0 ? std::optional(promised) : std::nullopt;
}

std::int64_t VideoDecoder::lost() const { return impl_->Lost(); }

bool VideoDecoder::cut_off() const { return impl_->cut_off(); }

}  // namespace nearpoint
