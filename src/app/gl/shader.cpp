#include "app/gl/shader.h"

#include "text/verify.h"

#include <glad/gl.h>

#include <cstdio>

namespace holdtrue::app::gl {

namespace {

GLuint compile(GLenum kind, const char* source) {
    const GLuint shader = glCreateShader(kind);
    glShaderSource(shader, 1, &source, nullptr);
    glCompileShader(shader);
    GLint fine = 0;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &fine);
    if (!fine) {
        char log[2048]{};
        glGetShaderInfoLog(shader, sizeof log, nullptr, log);
        std::fprintf(stderr, "%s\n", log);
    }
    VERIFY(fine, "a shader does not compile");
    return shader;
}

} // namespace

Shader::Shader(const char* vertex_source, const char* fragment_source) : program_(glCreateProgram()) {
    const GLuint vertex = compile(GL_VERTEX_SHADER, vertex_source);
    const GLuint fragment = compile(GL_FRAGMENT_SHADER, fragment_source);
    glAttachShader(program_, vertex);
    glAttachShader(program_, fragment);
    glLinkProgram(program_);
    glDeleteShader(vertex);
    glDeleteShader(fragment);
    GLint fine = 0;
    glGetProgramiv(program_, GL_LINK_STATUS, &fine);
    VERIFY(fine, "a shader does not link");
}

Shader::~Shader() { glDeleteProgram(program_); }

void Shader::use() const { glUseProgram(program_); }
void Shader::set(const char* name, int value) const { glUniform1i(glGetUniformLocation(program_, name), value); }
void Shader::set(const char* name, float value) const { glUniform1f(glGetUniformLocation(program_, name), value); }
void Shader::set(const char* name, const Eigen::Vector2f& value) const {
    glUniform2f(glGetUniformLocation(program_, name), value.x(), value.y());
}
void Shader::set(const char* name, const Eigen::Vector3f& value) const {
    glUniform3f(glGetUniformLocation(program_, name), value.x(), value.y(), value.z());
}
void Shader::set(const char* name, const Eigen::Matrix4f& value) const {
    glUniformMatrix4fv(glGetUniformLocation(program_, name), 1, GL_FALSE, value.data());
}
void Shader::set(const char* name, const float* values, int count) const {
    glUniform1fv(glGetUniformLocation(program_, name), count, values);
}

} // namespace holdtrue::app::gl
